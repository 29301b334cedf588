import { atanDeg } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import { ChordWalk, NOTHING_M } from "./chord-walk";
import { chordBreaks } from "./chords";
import type { UnknownCellListener } from "./gap";
import { type GeodesicRay, GeodesicRays } from "./geodesic-rays";
import type { ElevationGrid } from "./grid";
import { HIGHEST_GROUND_M } from "./maximum-pyramid";
import { type Mosaic, type PlacedGrid, placeGrids } from "./mosaic";
import { newTrace, type Trace } from "./trace";

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
  readonly #effectiveRadiusM: number;
  readonly #halfCurvature: number;
  readonly #mosaic: Mosaic;
  readonly #rays: GeodesicRays;
  readonly #walk: ChordWalk;
  /** Distances at which the chords of every ray meet [m]. */
  readonly #breaks: Float64Array;
  /** Distance of what made the last azimuth's skyline [m], to start the next one from. */
  #startM = Number.NaN;

  /** @throws DomainError naming `latitude`, `longitude`, `eyeHeightM`, `radiusM` …; `impossible` where no grid covers the viewpoint */
  constructor(grids: readonly ElevationGrid[], viewpoint: ScanViewpoint, options: ScannerOptions = {}) {
    const latitude = requireInRange("latitude", viewpoint.latitude, -85, 85, "deg");
    const longitude = requireInRange("longitude", viewpoint.longitude, -180, 180, "deg");
    const eyeHeightM = requireInRange("eyeHeightM", viewpoint.eyeHeightM ?? 1.6, LEAST_EYE_HEIGHT_M, 1000, "m");
    this.radiusM = requireInRange("radiusM", options.radiusM ?? 150_000, 100, 400_000, "m");
    const k = requireInRange("refractionCoefficient", options.refractionCoefficient ?? REFRACTION_COEFFICIENT, 0, 0.5);
    this.refractionCoefficient = k;
    this.#effectiveRadiusM = MEAN_EARTH_RADIUS_M / (1 - k);
    this.#halfCurvature = 0.5 / this.#effectiveRadiusM;
    this.#mosaic = placeGrids(grids, latitude, longitude, this.radiusM);
    const ground = this.#groundAt(0, 0);
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
    this.#walk = new ChordWalk(this.#mosaic, latitude, longitude, {
      elevationM: this.eyeElevationM,
      heightOverSeaM: this.eyeElevationM - Math.min(0, ground),
      effectiveRadiusM: this.#effectiveRadiusM,
    });
    this.#rays = new GeodesicRays(latitude, longitude, this.radiusM);
    this.#breaks = chordBreaks(this.radiusM, latitude);
  }

  /** The skyline at an azimuth [deg]. */
  at(azimuthDeg: number, onUnknownCell?: UnknownCellListener): ScannedAzimuth {
    requireInRange("azimuthDeg", azimuthDeg, -360, 720, "deg");
    const ray = this.#rays.ray(azimuthDeg);
    let trace = newTrace();
    this.#startWarm(ray, trace);
    this.#follow(ray, trace, onUnknownCell);
    if (Number.isNaN(trace.distanceM)) {
      // what it was to start from lies in or beside a void, which the search does not enter: so without it
      trace = newTrace();
      this.#follow(ray, trace, onUnknownCell);
    }
    this.#startM = trace.distanceM;
    this.#refine(ray, trace);
    return {
      altitudeDeg: atanDeg(trace.slope),
      distanceM: trace.distanceM,
      reachM: Math.min(trace.unknownFromM, this.radiusM),
      certain: trace.unknownSlope <= trace.slope,
    };
  }

  /** Whether the highest ground on Earth, from a distance [m] on, would stand above what was found. */
  couldRaise(found: ScannedAzimuth, fromM: number): boolean {
    if (fromM <= 0) return true;
    const steepest = (HIGHEST_GROUND_M - this.eyeElevationM) / fromM - fromM * this.#halfCurvature;
    return atanDeg(steepest) > found.altitudeDeg;
  }

  /** Height of the ground at an offset from the viewpoint [deg], by the first grid that knows it; null where none does. */
  #groundAt(eastDeg: number, northDeg: number): number | null {
    for (const placed of this.#mosaic.grids) {
      const column = placed.column0 + eastDeg * placed.columnsPerDeg;
      const row = placed.row0 - northDeg * placed.rowsPerDeg;
      const inside = column >= -1e-6 && row >= -1e-6 && column <= placed.lastColumn + 1e-6;
      if (!inside || row > placed.lastRow + 1e-6) continue;
      const height = placed.grid.elevationAt(column, row);
      if (height !== null) return height;
    }
    return null;
  }

  /**
   * What made the last azimuth's horizon mostly makes this one's: ground there, or the sea where none is known, is a lower bound, and
   * the search can skip below it.
   */
  #startWarm(ray: GeodesicRay, trace: Trace): void {
    const distance = this.#startM;
    if (!(distance > 1)) return;
    const ground = distance < this.radiusM ? this.#groundOnChord(ray, distance) : null;
    const slope =
      ground === null
        ? this.#walk.seaSlope(distance)
        : (ground - this.eyeElevationM) / distance - distance * this.#halfCurvature;
    // a hair less, so that the search finds the same again
    trace.slope = slope - 1e-11;
  }

  /** Ground on the same chord that the search will follow, so that a bound by it holds to the last digit. */
  #groundOnChord(ray: GeodesicRay, distance: number): number | null {
    const breaks = this.#breaks;
    let k = 0;
    while ((breaks[k + 1] as number) < distance) k++;
    const from = breaks[k] as number;
    const to = breaks[k + 1] as number;
    ray.moveTo(from);
    const east = ray.eastDeg;
    const north = ray.northDeg;
    ray.moveTo(to);
    const t = (distance - from) / (to - from);
    return this.#groundAt(east + (ray.eastDeg - east) * t, north + (ray.northDeg - north) * t);
  }

  #follow(ray: GeodesicRay, trace: Trace, onUnknownCell: UnknownCellListener | undefined): void {
    const breaks = this.#breaks;
    const eyeM = this.eyeElevationM;
    const ceilingM = this.#mosaic.ceilingM;
    this.#walk.begin();
    let east = 0;
    let north = 0;
    let current: PlacedGrid | null = null;
    for (let k = 0; k + 1 < breaks.length; k++) {
      const from = breaks[k] as number;
      const to = breaks[k + 1] as number;
      const slope = trace.slope;
      // past its lowest point the line of sight only rises
      if (
        from >= -slope * this.#effectiveRadiusM &&
        eyeM + slope * from + from * from * this.#halfCurvature > ceilingM
      ) {
        this.#walk.closeGap(trace, from, onUnknownCell);
        return;
      }
      ray.moveTo(to);
      current = this.#walk.follow(east, north, ray.eastDeg, ray.northDeg, from, to, current, trace, onUnknownCell);
      east = ray.eastDeg;
      north = ray.northDeg;
    }
    this.#walk.closeGap(trace, this.radiusM, onUnknownCell);
    this.#walk.seeTheSea(trace, this.radiusM, Number.POSITIVE_INFINITY);
  }

  /** Chords miss the geodesic by up to a metre or two far out: the ground round the winner is followed again on short ones. */
  #refine(ray: GeodesicRay, trace: Trace): void {
    const placed = trace.grid;
    if (placed === null) return;
    const window = 1.5 * placed.cellM;
    const from = Math.max(0, trace.distanceM - window);
    const to = Math.min(this.radiusM, trace.distanceM + window);
    const fine = newTrace();
    this.#walk.begin();
    ray.moveTo(from);
    for (const [near, far] of [
      [from, trace.distanceM],
      [trace.distanceM, to],
    ] as const) {
      if (!(far - near > NOTHING_M)) continue;
      const east = ray.eastDeg;
      const north = ray.northDeg;
      ray.moveTo(far);
      this.#walk.follow(east, north, ray.eastDeg, ray.northDeg, near, far, placed, fine, undefined);
    }
    if (fine.grid === null) return;
    trace.slope = fine.slope;
    trace.distanceM = fine.distanceM;
  }
}
