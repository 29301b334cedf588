import {
  DomainError,
  type Facing,
  type GraduatedInFrame,
  graduatedInFrame,
  type PolarizerInFrame,
  parseInstant,
  polarizerInFrame,
  type SkyPoint,
  sunPosition,
} from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import { resolveHorizon } from "../places/resolve-horizon";
import { placeTime } from "../places/resolve-place";
import { skylineAt } from "../places/skyline-at";
import type { GraduatedAssessmentInput } from "../schemas/graduated";
import type { PolarizerInput } from "../schemas/polarizer";
import type { Services } from "../services";

type AskedPolarizer = z.output<typeof PolarizerInput>;
type AskedGraduated = z.output<typeof GraduatedAssessmentInput>;

/** What a polarizer does to a frame: under the sun of a place and an instant, or under one that is given. */
export async function polarizerFor(
  services: Services,
  asked: AskedPolarizer,
): Promise<PolarizerInFrame & { readonly instant?: string }> {
  const { sun, place, instant, camera, sky, water, filter } = asked;
  const lit = { camera: pointed(camera), sky, water, filter };
  if (sun !== undefined) {
    for (const param of ["place", "instant"] as const) {
      if (asked[param] === undefined) continue;
      throw new DomainError({ param, given: asked[param], allowed: "sun, or place and instant" });
    }
    return underSun(services, asked, sun, lit);
  }
  if (place === undefined) {
    throw new DomainError({ param: "place", given: undefined, allowed: "place and instant, or sun" });
  }
  const { clock, assumptions } = placeTime(services, place);
  const instantMs = instant === undefined ? services.nowMs() : parseInstant(instant);
  const seen = sunPosition(instantMs, place);
  const skyline = await skylineAt(services, place, asked.horizon);
  const answer = polarizerInFrame({ sun: seen, profile: skyline.profile, ...lit });
  return {
    instant: clock.format(instantMs),
    ...answer,
    assumptions: [...assumptions, ...skyline.assumptions, ...answer.assumptions],
  };
}

/** Whether a graduated filter fits a frame at a place and an instant. */
export async function graduatedFor(
  services: Services,
  asked: AskedGraduated,
): Promise<GraduatedInFrame & { readonly instant: string }> {
  const { place, instant, horizon, subject, camera, ...rest } = asked;
  const { clock, assumptions } = placeTime(services, place);
  const instantMs = instant === undefined ? services.nowMs() : parseInstant(instant);
  const facing = facingOf(subject);
  const skyline = await skylineAt(services, place, horizon);
  const observer = {
    latitude: place.latitude,
    longitude: place.longitude,
    elevationM: place.elevationM ?? skyline.groundElevationM ?? 0,
  };
  const answer = graduatedInFrame({
    ...rest,
    instantMs,
    observer,
    camera: pointed(camera),
    profile: skyline.profile,
    subject: facing,
  });
  return {
    instant: clock.format(instantMs),
    ...answer,
    assumptions: [...assumptions, ...skyline.assumptions, ...answer.assumptions],
  };
}

/** With no place there is no terrain to look up: the skyline is as given, else flat. */
async function underSun(
  services: Services,
  { horizon }: AskedPolarizer,
  sun: SkyPoint,
  lit: Pick<Parameters<typeof polarizerInFrame>[0], "camera" | "sky" | "water" | "filter">,
): Promise<PolarizerInFrame> {
  if (horizon?.kind === "terrain") {
    throw new DomainError({ param: "horizon.kind", given: "terrain", allowed: "flat or profile, where sun is given" });
  }
  const asked = horizon ?? { kind: "flat" as const };
  const { horizon: resolved } = await resolveHorizon(services, { latitude: 0, longitude: 0 }, asked);
  const answer = polarizerInFrame({
    sun,
    ...lit,
    ...(resolved.kind === "flat" ? {} : { profile: resolved.profile }),
  });
  const assumed = { field: "horizon", value: "flat", why: "no skyline and no place were given" };
  return { ...answer, assumptions: [...(horizon === undefined ? [assumed] : []), ...answer.assumptions] };
}

/** Of a camera, what the frame depends on. */
function pointed({ sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation }: AskedGraduated["camera"]) {
  return { sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation };
}

/** A facing without a slope is an upright face; a slope needs a facing. */
function facingOf(subject: AskedGraduated["subject"]): Facing | undefined {
  const { facingAzimuthDeg, slopeDeg } = subject ?? {};
  if (facingAzimuthDeg !== undefined) return { facingAzimuthDeg, slopeDeg: slopeDeg ?? 90 };
  if (slopeDeg === undefined || slopeDeg === 0) return undefined;
  const allowed = "the way the slope looks, 0 to 360";
  throw new DomainError({ param: "subject.facingAzimuthDeg", given: undefined, allowed, unit: "deg" });
}
