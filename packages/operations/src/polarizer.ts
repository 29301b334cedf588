import { DomainError } from "@fieldstop/core/domain-error";
import { parseInstant } from "@fieldstop/core/instants";
import { type PolarizerInFrame, type PolarizerInFrameRequest, polarizerInFrame } from "@fieldstop/core/outing";
import { type SkyPoint, sunPosition } from "@fieldstop/core/sky";
import { type CameraInput, pointed } from "./camera";
import type { Dependencies } from "./dependencies";
import { type HorizonInput, resolveHorizon, skylineAt } from "./horizon";
import { type PlaceInput, placeTime } from "./place";
import { type Fresh, rounded } from "./rounding";

/** A frame for a polarizer: under the sun of a place and an instant, or under one that is given. */
export interface PolarizerRequest {
  readonly place?: PlaceInput | undefined;
  /** RFC 3339; default now. */
  readonly instant?: string | undefined;
  readonly sun?: SkyPoint | undefined;
  readonly camera: CameraInput;
  readonly horizon?: HorizonInput | undefined;
  readonly sky?: PolarizerInFrameRequest["sky"];
  readonly water?: PolarizerInFrameRequest["water"];
  readonly filter?: PolarizerInFrameRequest["filter"];
}

type Lit = Pick<PolarizerInFrameRequest, "camera" | "sky" | "water" | "filter">;
type Assessed = PolarizerInFrame & { readonly instant?: string };

/** What a polarizer does to this frame. */
export async function assessPolarizer(dependencies: Dependencies, request: PolarizerRequest): Promise<Fresh<Assessed>> {
  const { sun, place, camera, sky, water, filter } = request;
  const lit = { camera: pointed(camera), sky, water, filter };
  if (sun !== undefined) {
    for (const param of ["place", "instant"] as const) {
      if (request[param] === undefined) continue;
      throw new DomainError({ param, given: request[param], allowed: "sun, or place and instant" });
    }
    return rounded(await underSun(dependencies, request, sun, lit));
  }
  if (place === undefined) {
    throw new DomainError({ param: "place", given: undefined, allowed: "place and instant, or sun" });
  }
  return rounded(await atPlace(dependencies, request, place, lit));
}

async function atPlace(
  dependencies: Dependencies,
  { instant, horizon }: PolarizerRequest,
  place: PlaceInput,
  lit: Lit,
): Promise<Assessed> {
  const { clock, assumptions } = placeTime(dependencies, place);
  const instantMs = instant === undefined ? dependencies.nowMs() : parseInstant(instant);
  const sun = sunPosition(instantMs, place);
  const skyline = await skylineAt(dependencies, place, horizon);
  const answer = polarizerInFrame({ sun, profile: skyline.profile, ...lit });
  return {
    instant: clock.format(instantMs),
    ...answer,
    assumptions: [...assumptions, ...skyline.assumptions, ...answer.assumptions],
  };
}

/** With no place there is no terrain to look up: the skyline is as given, else flat. */
async function underSun(
  dependencies: Dependencies,
  { horizon }: PolarizerRequest,
  sun: SkyPoint,
  lit: Lit,
): Promise<Assessed> {
  if (horizon?.kind === "terrain") {
    throw new DomainError({ param: "horizon.kind", given: "terrain", allowed: "flat or profile, where sun is given" });
  }
  const request = horizon ?? { kind: "flat" as const };
  const { horizon: resolved } = await resolveHorizon(dependencies, { latitude: 0, longitude: 0 }, request);
  const answer = polarizerInFrame({
    sun,
    ...lit,
    ...(resolved.kind === "flat" ? {} : { profile: resolved.profile }),
  });
  const assumed = { field: "horizon", value: "flat", why: "no skyline and no place were given" };
  return { ...answer, assumptions: [...(horizon === undefined ? [assumed] : []), ...answer.assumptions] };
}
