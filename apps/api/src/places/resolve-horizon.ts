import { type Assumption, type Horizon, horizonProfileFromPoints } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import { within } from "../problems/within";
import type { HorizonInput } from "../schemas/horizon";
import type { Services } from "../services";

export interface Viewpoint {
  readonly latitude: number;
  readonly longitude: number;
  readonly elevationM?: number | undefined;
  readonly eyeHeightM?: number | undefined;
}

export interface ResolvedHorizon {
  readonly horizon: Horizon;
  /** Height of the ground at the viewpoint by the elevation data [m]; absent where it was not looked up. */
  readonly groundElevationM?: number;
  readonly assumptions: readonly Assumption[];
}

/** The skyline that a request asks for, or that the service has elevation data for; where it has none, a sea horizon, and it says so. */
export async function resolveHorizon(
  services: Services,
  viewpoint: Viewpoint,
  asked: z.output<typeof HorizonInput> | undefined,
): Promise<ResolvedHorizon> {
  if (asked?.kind === "flat") return { horizon: { kind: "flat" }, assumptions: [] };
  if (asked?.kind === "profile") {
    const profile = within("horizon", () => horizonProfileFromPoints(asked.points));
    return { horizon: { kind: "profile", profile, source: "given with the request" }, assumptions: [] };
  }
  const { latitude, longitude, elevationM, eyeHeightM } = viewpoint;
  const found = await services.terrain?.horizonAt({
    latitude,
    longitude,
    ...(elevationM === undefined ? {} : { elevationM }),
    ...(eyeHeightM === undefined ? {} : { eyeHeightM }),
  });
  if (found === undefined || found === null) {
    const assumption = { field: "horizon", value: "flat", why: "no elevation data covers this place" };
    return { horizon: { kind: "flat" }, assumptions: [assumption] };
  }
  const { profile, source, missingTiles, viewpoint: seenFrom, refractionCoefficient } = found;
  return {
    horizon: {
      kind: "terrain",
      profile,
      source: source.attribution ?? source.name,
      missingTiles: missingTiles.map(({ name, reason, azimuthsDeg, ...rest }) => ({
        name,
        reason: "detail" in rest && rest.detail !== undefined ? rest.detail : reason,
        azimuthsDeg,
      })),
    },
    groundElevationM: seenFrom.groundElevationM,
    assumptions: [
      { field: "refractionCoefficient", value: refractionCoefficient, why: "usual bending of light over land by day" },
    ],
  };
}
