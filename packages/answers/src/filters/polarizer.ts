import { DomainError } from "@fieldstop/core/domain-error";
import { parseInstant } from "@fieldstop/core/instants";
import { type PolarizerInFrame, type PolarizerInFrameRequest, polarizerInFrame } from "@fieldstop/core/outing";
import { type SkyPoint, sunPosition } from "@fieldstop/core/sky";
import type { AskedCamera } from "../framing/asked-camera";
import { pointed } from "../framing/pointed";
import type { AskedHorizon } from "../places/asked-horizon";
import type { AskedPlace } from "../places/asked-place";
import { placeTime } from "../places/place-time";
import { resolveHorizon } from "../places/resolve-horizon";
import { skylineAt } from "../places/skyline-at";
import { type Fresh, rounded } from "../rounding";
import type { Surroundings } from "../surroundings";

/** A frame for a polarizer: under the sun of a place and an instant, or under one that is given. */
export interface PolarizerAsked {
  readonly place?: AskedPlace | undefined;
  /** RFC 3339; default now. */
  readonly instant?: string | undefined;
  readonly sun?: SkyPoint | undefined;
  readonly camera: AskedCamera;
  readonly horizon?: AskedHorizon | undefined;
  readonly sky?: PolarizerInFrameRequest["sky"];
  readonly water?: PolarizerInFrameRequest["water"];
  readonly filter?: PolarizerInFrameRequest["filter"];
}

type Lit = Pick<PolarizerInFrameRequest, "camera" | "sky" | "water" | "filter">;
type Assessed = PolarizerInFrame & { readonly instant?: string };

/** What a polarizer does to this frame. */
export async function assessPolarizer(surroundings: Surroundings, asked: PolarizerAsked): Promise<Fresh<Assessed>> {
  const { sun, place, camera, sky, water, filter } = asked;
  const lit = { camera: pointed(camera), sky, water, filter };
  if (sun !== undefined) {
    for (const param of ["place", "instant"] as const) {
      if (asked[param] === undefined) continue;
      throw new DomainError({ param, given: asked[param], allowed: "sun, or place and instant" });
    }
    return rounded(await underSun(surroundings, asked, sun, lit));
  }
  if (place === undefined) {
    throw new DomainError({ param: "place", given: undefined, allowed: "place and instant, or sun" });
  }
  return rounded(await atPlace(surroundings, asked, place, lit));
}

async function atPlace(
  surroundings: Surroundings,
  { instant, horizon }: PolarizerAsked,
  place: AskedPlace,
  lit: Lit,
): Promise<Assessed> {
  const { clock, assumptions } = placeTime(surroundings, place);
  const instantMs = instant === undefined ? surroundings.nowMs() : parseInstant(instant);
  const sun = sunPosition(instantMs, place);
  const skyline = await skylineAt(surroundings, place, horizon);
  const answer = polarizerInFrame({ sun, profile: skyline.profile, ...lit });
  return {
    instant: clock.format(instantMs),
    ...answer,
    assumptions: [...assumptions, ...skyline.assumptions, ...answer.assumptions],
  };
}

/** With no place there is no terrain to look up: the skyline is as given, else flat. */
async function underSun(
  surroundings: Surroundings,
  { horizon }: PolarizerAsked,
  sun: SkyPoint,
  lit: Lit,
): Promise<Assessed> {
  if (horizon?.kind === "terrain") {
    throw new DomainError({ param: "horizon.kind", given: "terrain", allowed: "flat or profile, where sun is given" });
  }
  const asked = horizon ?? { kind: "flat" as const };
  const { horizon: resolved } = await resolveHorizon(surroundings, { latitude: 0, longitude: 0 }, asked);
  const answer = polarizerInFrame({
    sun,
    ...lit,
    ...(resolved.kind === "flat" ? {} : { profile: resolved.profile }),
  });
  const assumed = { field: "horizon", value: "flat", why: "no skyline and no place were given" };
  return { ...answer, assumptions: [...(horizon === undefined ? [assumed] : []), ...answer.assumptions] };
}
