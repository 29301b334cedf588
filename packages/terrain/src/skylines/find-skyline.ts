import { requireInRange } from "@fieldstop/core";
import { compassAzimuthsDeg, REFRACTION_COEFFICIENT, skyViewFactor } from "@fieldstop/core/horizon";
import type { TerrainHorizon } from "../terrain";
import type { TerrainWork } from "../terrain-work";
import { boxAround } from "../tiles/degree-cell";
import { groundOf, requirePlace, tilesAt } from "../tiles/ground";
import { sharedGrid } from "../tiles/shared-grid";
import type { TileStore } from "../tiles/tile-store";
import { azimuthRanges } from "./azimuth-ranges";
import { gatherScan } from "./gather-scan";
import type { HorizonQuestion } from "./horizon-question";
import { missingTiles } from "./missing-tiles";
import { openScan } from "./packed-scan";

/** The answer, and whether it will be the same next time. */
export interface FoundSkyline {
  readonly answer: TerrainHorizon;
  readonly lasting: boolean;
}

/**
 * The skyline round a viewpoint, by all the tiles that could raise it; null where none covers it.
 * @throws DomainError naming the field; TileError where the tile at the viewpoint itself cannot be used
 */
export async function findSkyline(
  store: TileStore,
  work: TerrainWork,
  question: HorizonQuestion,
  signal: AbortSignal | undefined,
): Promise<FoundSkyline | null> {
  const { latitude, longitude, elevationM, eyeHeightM, stepDeg, refined, radiusKm } = question;
  requirePlace(latitude, longitude);
  requireInRange("radiusKm", radiusKm, 0.1, 400, "km");
  const { usable: here, failure } = await tilesAt(store, latitude, longitude);
  const ground = groundOf(here, latitude, longitude);
  const first = here[0];
  if (first === undefined || ground === null) return null;
  const around = store.catalogue.near(boxAround(latitude, longitude, radiusKm));
  const atHand = [...here, ...store.loadedAmong(around)];
  const { scan, failures, lasting } = await gatherScan(
    store,
    atHand,
    around,
    compassAzimuthsDeg(stepDeg),
    async (grids, azimuthsDeg, goesOn, refine) => {
      signal?.throwIfAborted();
      const job = {
        grids: grids.map((grid) => sharedGrid(grid, grid.pyramid)),
        viewpoint: { latitude, longitude, elevationM, eyeHeightM },
        options: { radiusM: radiusKm * 1000, refine },
        azimuthsDeg: new Float64Array(azimuthsDeg),
        goesOn,
      };
      return openScan(await work.scanHorizon(job, signal));
    },
    refined ? {} : undefined,
  );
  const profile = {
    azimuthsDeg: scan.azimuthsDeg,
    altitudesDeg: scan.altitudesDeg,
    distancesM: scan.distancesM,
  };
  const uncertain = [...scan.certain.keys()].filter((i) => !scan.certain[i]);
  const { kind, attribution } = first.tile.source;
  const missing = missingTiles(store.catalogue, scan, failures);
  const answer: TerrainHorizon = {
    profile,
    viewpoint: { latitude, longitude, groundElevationM: scan.groundElevationM, eyeHeightM },
    skyViewFactor: skyViewFactor(profile),
    source: {
      name: kind,
      // a degree of latitude is 111.2 km on the mean sphere
      resolutionM: Math.round(first.grid.latStepDeg * 111_195),
      ...(attribution === undefined ? {} : { attribution }),
    },
    missingTiles: missing,
    uncertainAzimuthsDeg: azimuthRanges(scan.azimuthsDeg, uncertain),
    refractionCoefficient: REFRACTION_COEFFICIENT,
  };
  return { answer, lasting: lasting && failure === undefined && missing.every(({ reason }) => reason === "absent") };
}
