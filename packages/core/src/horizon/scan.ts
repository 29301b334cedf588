import { DomainError, requireInRange } from "../domain-error";
import type { ElevationGrid } from "./grid";
import type { HorizonProfile } from "./profile";
import { MAX_HORIZON_POINTS } from "./profile-from-points";
import { type Refinement, refinedOrder } from "./refine-azimuths";
import { HorizonScanner, type ScannerOptions, type ScanViewpoint } from "./scanner";
import { Sweep, type UnknownCell } from "./sweep";

export interface ScanOptions extends ScannerOptions {
  /** Azimuths to look along [deg], ascending within [0, 360); default all round the compass each `stepDeg`. */
  readonly azimuthsDeg?: readonly number[] | undefined;
  /** Step round the compass [deg], 0.05 to 30, a whole number of which make a turn as nearly as they can; default 0.25. */
  readonly stepDeg?: number | undefined;
  /** Azimuths between these wherever straight lines would miss the skyline; without it there are none. For the whole compass. */
  readonly refine?: Refinement | undefined;
}

export interface HorizonScan extends HorizonProfile {
  /** Distance to the ground or sea that makes the skyline [m]. */
  readonly distancesM: readonly number[];
  /** Per azimuth, the distance to which the ground is known without a break [m]. */
  readonly reachesM: readonly number[];
  /** Per azimuth, whether no unknown ground within the radius could stand higher. */
  readonly certain: readonly boolean[];
  readonly groundElevationM: number;
  readonly eyeElevationM: number;
  readonly refractionCoefficient: number;
  /** Only cells that could raise the skyline, nearest first. */
  readonly unknownCells: readonly UnknownCell[];
}

/**
 * Compute the skyline that elevation grids make round a viewpoint: for each azimuth the apparent altitude and the distance of what makes it.
 *
 * Rays follow the geodesics of WGS 84 over the bilinear ground; curvature and refraction by the effective radius R/(1 − k). Over
 * open water it gives the dip. Ground that no grid covers is unknown, not sea: the altitude there is the least it can be, and the
 * azimuth is not certain unless the ground in front stands above all that could be there.
 *
 * @param grids in order of preference: where several know the ground, the first counts
 * @param viewpoint latitude -90 to 90 [deg], longitude -180 to 180 [deg], eye 0.5 to 1000 m above the ground; at a pole azimuths count
 *   from the meridian of the longitude given, which 180° looks down from the North Pole and 0° from the South Pole
 * @param options radius 100 m to 400 km, default 150 km; step 0.05 to 30°, default 0.25°; k, default 0.13; `refine` for azimuths
 *   between, where the skyline is not straight
 * @returns the profile with distances [m], and per azimuth how far the ground is known
 * @throws DomainError naming the field; `impossible` where no grid covers the viewpoint
 *
 * Source: slope (z − h − d²/2R)/d with R = 6371.0088 km/(1 − k), k = 0.13 (Gauss 1826, quoted by Brunner 1984, Geodetic Refraction).
 * Accuracy: 0.001° to the grid; held by tests/core/horizon/scan.spec.ts. Straight lines between azimuths 0.25° apart miss the skyline
 * of real ground by up to 0.05°, more over rough ground near by; refined to 0.01° they miss by more than that in one direction of a
 * thousand at the most; held by tests/core/horizon/refine.spec.ts. The refraction of the day moves a true horizon by 0.02° to 0.05°.
 * @example
 * const sea = new ElevationGrid({
 *   samples: new Int16Array(121 * 121), rows: 121, columns: 121,
 *   northDeg: 57, westDeg: -10, latStepDeg: 1 / 120, lonStepDeg: 1 / 120,
 * });
 * const place = { latitude: 56.5, longitude: -9.5, eyeHeightM: 2 };
 * scanHorizon([sea], place, { azimuthsDeg: [0, 90, 180, 270], radiusM: 20_000 }).altitudesDeg
 * // [-0.0423, -0.0423, -0.0423, -0.0423]
 */
export function scanHorizon(
  grids: readonly ElevationGrid[],
  viewpoint: ScanViewpoint,
  options: ScanOptions = {},
): HorizonScan {
  const { refine } = options;
  const azimuthsDeg = options.azimuthsDeg ?? compassAzimuthsDeg(options.stepDeg);
  requireAscending(azimuthsDeg);
  const scanner = new HorizonScanner(grids, viewpoint, options);
  const sweep = new Sweep(scanner);
  for (const azimuthDeg of azimuthsDeg) sweep.look(azimuthDeg);
  const order = refine === undefined ? undefined : refinedOrder(sweep, refine);
  const ordered = <T>(column: readonly T[]): readonly T[] =>
    order === undefined ? column : order.map((place) => column[place] as T);
  return {
    azimuthsDeg: ordered(sweep.azimuthsDeg),
    altitudesDeg: ordered(sweep.altitudesDeg),
    distancesM: ordered(sweep.distancesM),
    reachesM: ordered(sweep.reachesM),
    certain: ordered(sweep.certain),
    groundElevationM: scanner.groundElevationM,
    eyeElevationM: scanner.eyeElevationM,
    refractionCoefficient: scanner.refractionCoefficient,
    unknownCells: sweep.unknownCells(order),
  };
}

/**
 * List azimuths all round the compass from north [deg], evenly spaced, as near to the step as a whole number of them allows.
 *
 * @param stepDeg 0.05 to 30 [deg]; default 0.25
 * @throws DomainError naming `stepDeg`
 * @example
 * compassAzimuthsDeg(30) // [0, 30, 60, … 330]
 */
export function compassAzimuthsDeg(stepDeg = 0.25): number[] {
  requireInRange("stepDeg", stepDeg, 0.05, 30, "deg");
  const count = Math.round(360 / stepDeg);
  return Array.from({ length: count }, (_, i) => (360 * i) / count);
}

function requireAscending(azimuthsDeg: readonly number[]): void {
  if (azimuthsDeg.length < 1 || azimuthsDeg.length > MAX_HORIZON_POINTS) {
    throw new DomainError({
      param: "azimuthsDeg",
      given: azimuthsDeg.length,
      allowed: `1 to ${MAX_HORIZON_POINTS} azimuths`,
    });
  }
  let before = -1;
  azimuthsDeg.forEach((azimuth, i) => {
    if (!(azimuth > before && azimuth >= 0 && azimuth < 360)) {
      throw new DomainError({
        param: `azimuthsDeg.${i}`,
        given: azimuth,
        allowed: "ascending within 0 to 360",
        unit: "deg",
      });
    }
    before = azimuth;
  });
}
