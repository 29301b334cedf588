import { atanDeg } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { UnknownCellListener } from "./gap";
import type { ElevationGrid } from "./grid";
import { HIGHEST_GROUND_M } from "./maximum-pyramid";
import { placeGrids } from "./mosaic";
import { groundIn } from "./placed-ground";
import { SkylineSearch } from "./skyline-search";

// IUGG mean radius of the Earth, Moritz 1980, Geodetic Reference System 1980, R1 of WGS 84
const MEAN_EARTH_RADIUS_M = 6_371_008.8;

/** Gauss 1826, as quoted by Brunner 1984, Geodetic Refraction: the ray bends by 0.13 of the Earth's curvature. */
export const REFRACTION_COEFFICIENT = 0.13;

/** The eye must stand off the ground: at the ground itself the horizon is the patch under the lens. */
export const LEAST_EYE_HEIGHT_M = 0.5;

export interface ScanViewpoint {
  readonly latitude: number;
  readonly longitude: number;
  /** Height of the ground at the camera above the sea [m]; default the grid's, and never lower than it. */
  readonly elevationM?: number | undefined;
  /** Height of the eye above that ground [m], 0.5 to 1000; default 1.6. */
  readonly eyeHeightM?: number | undefined;
}

export interface ScannerOptions {
  /** How far to look [m], 100 to 400 000; default 150 km. */
  readonly radiusM?: number | undefined;
  /** Curvature of the ray over that of the Earth, 0 to 0.5; default 0.13. */
  readonly refractionCoefficient?: number | undefined;
}

/** The skyline in one direction. */
export interface ScannedAzimuth {
  /** Apparent altitude [deg]. */
  readonly altitudeDeg: number;
  /** Distance of the ground or sea that makes it [m]. */
  readonly distanceM: number;
  /** Distance to which the ground is known without a break [m]; the radius where it is known all the way. */
  readonly reachM: number;
  /** Whether no unknown ground within the radius could stand higher. */
  readonly certain: boolean;
}

/**
 * Horizons from one viewpoint over elevation grids, azimuth by azimuth: {@link scanHorizon} takes the whole compass; this is for
 * single exact azimuths, such as the sun's at the moment when it goes: a few microseconds each. Accuracy and source as there.
 *
 * @example
 * new HorizonScanner([sea], { latitude: 56.5, longitude: -9.5, eyeHeightM: 2 }, { radiusM: 20_000 }).at(265.3).altitudeDeg // -0.0423
 */
export class HorizonScanner {
  readonly groundElevationM: number;
  readonly eyeElevationM: number;
  readonly radiusM: number;
  readonly refractionCoefficient: number;
  readonly #halfCurvature: number;
  readonly #search: SkylineSearch;

  /** @throws DomainError naming `latitude`, `longitude`, `eyeHeightM`, `radiusM` …; `impossible` where no grid covers the viewpoint */
  constructor(grids: readonly ElevationGrid[], viewpoint: ScanViewpoint, options: ScannerOptions = {}) {
    const latitude = requireInRange("latitude", viewpoint.latitude, -90, 90, "deg");
    const longitude = requireInRange("longitude", viewpoint.longitude, -180, 180, "deg");
    const eyeHeightM = requireInRange("eyeHeightM", viewpoint.eyeHeightM ?? 1.6, LEAST_EYE_HEIGHT_M, 1000, "m");
    this.radiusM = requireInRange("radiusM", options.radiusM ?? 150_000, 100, 400_000, "m");
    const k = requireInRange("refractionCoefficient", options.refractionCoefficient ?? REFRACTION_COEFFICIENT, 0, 0.5);
    this.refractionCoefficient = k;
    const effectiveRadiusM = MEAN_EARTH_RADIUS_M / (1 - k);
    this.#halfCurvature = 0.5 / effectiveRadiusM;
    const mosaic = placeGrids(grids, latitude, longitude, this.radiusM);
    const ground = groundIn(mosaic, 0, 0);
    if (ground === null) {
      throw new DomainError({
        code: "impossible",
        param: "latitude",
        given: latitude,
        allowed: "a viewpoint with elevation data",
      });
    }
    this.groundElevationM = ground;
    const stand = Math.max(ground, requireInRange("elevationM", viewpoint.elevationM ?? ground, -500, 9000, "m"));
    this.eyeElevationM = stand + eyeHeightM;
    this.#search = new SkylineSearch(mosaic, latitude, longitude, this.radiusM, {
      elevationM: this.eyeElevationM,
      heightOverSeaM: this.eyeElevationM - Math.min(0, ground),
      effectiveRadiusM,
    });
  }

  /** The skyline at an azimuth [deg]. */
  at(azimuthDeg: number, onUnknownCell?: UnknownCellListener): ScannedAzimuth {
    const found = { altitudeDeg: 0, distanceM: 0, reachM: 0, certain: false };
    this.lookInto(found, azimuthDeg, onUnknownCell);
    return found;
  }

  /** The same, written over what was found before. */
  lookInto(
    found: { -readonly [K in keyof ScannedAzimuth]: ScannedAzimuth[K] },
    azimuthDeg: number,
    onUnknownCell?: UnknownCellListener,
  ): void {
    requireInRange("azimuthDeg", azimuthDeg, -360, 720, "deg");
    const trace = this.#search.along(azimuthDeg, onUnknownCell);
    found.altitudeDeg = atanDeg(trace.slope);
    found.distanceM = trace.distanceM;
    found.reachM = trace.unknownFromM < this.radiusM ? trace.unknownFromM : this.radiusM;
    found.certain = trace.unknownSlope <= trace.slope;
  }

  /** Whether the highest ground on Earth, from a distance [m] on, would stand above what was found. */
  couldRaise(found: ScannedAzimuth, fromM: number): boolean {
    if (fromM <= 0) return true;
    const steepest = (HIGHEST_GROUND_M - this.eyeElevationM) / fromM - fromM * this.#halfCurvature;
    return atanDeg(steepest) > found.altitudeDeg;
  }
}
