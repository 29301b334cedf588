import { within } from "@fieldstop/core/domain-error";
import { flatHorizon, type HorizonPoint, type HorizonProfile, horizonProfileFromPoints } from "@fieldstop/core/horizon";
import type { Horizon, HorizonReport, MissingTile } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import type { Dependencies, Viewpoint } from "./dependencies";

/** Which skyline to use: from terrain, the flat sea horizon, or given point by point. */
export type HorizonInput =
  | { readonly kind: "terrain" }
  | { readonly kind: "flat" }
  | { readonly kind: "profile"; readonly points: readonly HorizonPoint[] };

export interface ResolvedHorizon {
  readonly horizon: Horizon;
  /** Height of the ground at the viewpoint by the elevation data [m]; absent where it was not looked up. */
  readonly groundElevationM?: number;
  readonly assumptions: readonly Assumption[];
}

/** The skyline that a request asks for, or that there is elevation data for; where there is none, a sea horizon, and it says so. */
export async function resolveHorizon(
  dependencies: Dependencies,
  viewpoint: Viewpoint,
  input: HorizonInput | undefined,
): Promise<ResolvedHorizon> {
  if (input?.kind === "flat") return { horizon: { kind: "flat" }, assumptions: [] };
  if (input?.kind === "profile") {
    const profile = within("horizon", () => horizonProfileFromPoints(input.points));
    return { horizon: { kind: "profile", profile, source: "given with the request" }, assumptions: [] };
  }
  try {
    return await terrainHorizon(dependencies, viewpoint);
  } catch (error) {
    // the tile under the viewpoint itself cannot be used: the rest of the answer stands without terrain
    if (!isTileError(error)) throw error;
    return withoutTerrain(`the elevation tile of this place cannot be used: ${error.message}`, [
      { name: error.file, reason: error.message, azimuthsDeg: [[0, 360]] },
    ]);
  }
}

async function terrainHorizon(dependencies: Dependencies, viewpoint: Viewpoint): Promise<ResolvedHorizon> {
  const { latitude, longitude, elevationM, eyeHeightM } = viewpoint;
  const found = await dependencies.terrain?.horizonAt(
    { latitude, longitude, elevationM, eyeHeightM },
    // for their signal, which is made when it is looked at: a skyline that is kept costs less
    dependencies,
  );
  if (found === undefined || found === null) return withoutTerrain("no elevation data covers this place");
  const { profile, source, missingTiles, viewpoint: seenFrom, refractionCoefficient } = found;
  const why = "usual bending of light over land by day; with strong inversions it is two to three times that";
  return {
    horizon: {
      kind: "terrain",
      profile,
      source: source.attribution ?? source.name,
      missingTiles: missingTiles.map(({ name, reason, detail, azimuthsDeg }) => ({
        name,
        reason: detail === undefined ? reason : `${reason}: ${detail}`,
        azimuthsDeg,
      })),
    },
    groundElevationM: seenFrom.groundElevationM,
    assumptions: [{ field: "refractionCoefficient", value: refractionCoefficient, why }],
  };
}

function withoutTerrain(why: string, missingTiles?: readonly MissingTile[]): ResolvedHorizon {
  const assumption = { field: "horizon", value: "flat", why };
  return { horizon: { kind: "flat", ...(missingTiles && { missingTiles }) }, assumptions: [assumption] };
}

/** A tile that cannot be used, told by its name: this package knows terrain by what it answers, not by its code. */
export function isTileError(error: unknown): error is Error & { readonly file: string } {
  return error instanceof Error && error.name === "TileError" && "file" in error;
}

/** A skyline as framing needs it: always a profile, and the eye that sees it. */
export interface Skyline {
  readonly horizon: Horizon;
  readonly profile: HorizonProfile;
  readonly eyeHeightM: number;
  readonly groundElevationM: number | undefined;
  /** The skyline used, without its points. */
  readonly report: HorizonReport;
  readonly assumptions: readonly Assumption[];
}

// Common practice: a standing person, the camera at the eye
const USUAL_EYE_HEIGHT_M = 1.6;

/** The skyline that a request asks for; where it has none, that of the sea, which dips with the eye height. */
export async function skylineAt(
  dependencies: Dependencies,
  place: Viewpoint,
  input: HorizonInput | undefined,
): Promise<Skyline> {
  const { horizon, groundElevationM, assumptions } = await resolveHorizon(dependencies, place, input);
  const { eyeHeightM = USUAL_EYE_HEIGHT_M } = place;
  const why = "a standing person with the camera at the eye";
  return {
    horizon,
    profile: horizon.kind === "flat" ? flatHorizon(eyeHeightM) : horizon.profile,
    eyeHeightM,
    groundElevationM,
    report: reportOf(horizon),
    assumptions:
      place.eyeHeightM === undefined ? [{ field: "eyeHeightM", value: eyeHeightM, why }, ...assumptions] : assumptions,
  };
}

function reportOf(horizon: Horizon): HorizonReport {
  if (horizon.kind === "flat") return { kind: "flat" };
  const { kind, source, missingTiles } = horizon;
  return { kind, ...(source && { source }), ...(missingTiles && { missingTiles }) };
}
