import { atanDeg } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import { chordBreaks } from "./chords";
import { type Clip, clipLine, holds } from "./clip";
import { Gap, type UnknownCellListener } from "./gap";
import { type GeodesicRay, GeodesicRays } from "./geodesic-rays";
import type { ElevationGrid } from "./grid";
import { HIGHEST_GROUND_M } from "./maximum-pyramid";
import { type Mosaic, type PlacedGrid, placeGrids } from "./mosaic";
import { noteUnknown, type Trace, traceAcross } from "./trace";

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
  /** Of the eye [m]: over the sea, or over a plain at the viewpoint's own height where that lies lower. */
  readonly #heightOverSeaM: number;
  readonly #mosaic: Mosaic;
  readonly #rays: GeodesicRays;
  /** Distances at which the chords of every ray meet [m]. */
  readonly #breaks: Float64Array;
  readonly #clip: Clip = { from: 0, to: 0 };
  readonly #gap: Gap;
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
    this.#gap = new Gap(latitude, longitude);
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
    this.#heightOverSeaM = this.eyeElevationM - Math.min(0, ground);
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

  /** Height of the ground at an offset from the viewpoint [deg], by the first grid that covers it; null where none does. */
  #groundAt(eastDeg: number, northDeg: number): number | null {
    for (const placed of this.#mosaic.grids) {
      const column = placed.column0 + eastDeg * placed.columnsPerDeg;
      const row = placed.row0 - northDeg * placed.rowsPerDeg;
      const inside = column >= -1e-6 && row >= -1e-6 && column <= placed.lastColumn + 1e-6;
      if (inside && row <= placed.lastRow + 1e-6) return placed.grid.elevationAt(column, row);
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
        ? this.#seaSlope(distance)
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
    this.#gap.forget();
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
        this.#closeGap(trace, from, onUnknownCell);
        return;
      }
      ray.moveTo(to);
      current = this.#followChord(east, north, ray.eastDeg, ray.northDeg, from, to, current, trace, onUnknownCell);
      east = ray.eastDeg;
      north = ray.northDeg;
    }
    this.#closeGap(trace, this.radiusM, onUnknownCell);
    this.#seeTheSea(trace, this.radiusM, Number.POSITIVE_INFINITY);
  }

  /** Follows one chord over all grids that it crosses; returns the grid that it ends in. */
  #followChord(
    east0: number,
    north0: number,
    east1: number,
    north1: number,
    from: number,
    to: number,
    start: PlacedGrid | null,
    trace: Trace,
    onUnknownCell: UnknownCellListener | undefined,
  ): PlacedGrid | null {
    const span = to - from;
    const clip = this.#clip;
    const eastRate = (east1 - east0) / span;
    const northRate = (north1 - north0) / span;
    const nothing = 1e-3 / span;
    // a hair wider than the chord, for lines along a grid's edge
    const west = Math.min(east0, east1) - 1e-9;
    const east = Math.max(east0, east1) + 1e-9;
    const south = Math.min(north0, north1) - 1e-9;
    const north = Math.max(north0, north1) + 1e-9;
    let t = 0;
    let current = start;
    while (t < 1 - nothing) {
      let end = 1;
      if (
        current === null ||
        current.overlaid ||
        t > 0 ||
        !holds(current, east0, north0) ||
        !holds(current, east1, north1)
      ) {
        let next: PlacedGrid | null = null;
        let opening = 1;
        for (const placed of this.#mosaic.grids) {
          const { box } = placed;
          if (west > box.east || east < box.west || south > box.north || north < box.south) continue;
          if (!clipLine(placed, east0, north0, east1, north1, clip)) continue;
          if (clip.to <= t + nothing || clip.to - clip.from <= nothing) continue;
          if (clip.from > t + nothing) opening = Math.min(opening, clip.from);
          else {
            next = placed;
            end = Math.min(clip.to, opening);
            break;
          }
        }
        if (next === null) {
          if (!this.#gap.isOpen) this.#gap.fromM = from + t * span;
          if (onUnknownCell !== undefined) {
            this.#gap.noteCells(east0, north0, east1, north1, t, opening, from, span);
          }
          t = opening;
          current = null;
          continue;
        }
        current = next;
      }
      const d = from + t * span;
      // neighbours whose cells were centred leave one cell between them: nothing hides in it
      if (this.#gap.isOpen && d - this.#gap.fromM <= 2 * current.cellM) this.#gap.forget();
      else this.#closeGap(trace, d, onUnknownCell);
      const until = end === 1 ? to : from + end * span;
      traceAcross(
        current,
        current.column0 + (east0 + t * (east1 - east0)) * current.columnsPerDeg,
        current.row0 - (north0 + t * (north1 - north0)) * current.rowsPerDeg,
        eastRate * current.columnsPerDeg,
        -northRate * current.rowsPerDeg,
        d,
        until,
        this.eyeElevationM,
        this.#effectiveRadiusM,
        trace,
      );
      t = end;
    }
    return current;
  }

  /** Chords miss the geodesic by up to a metre or two far out: the ground round the winner is followed again on short ones. */
  #refine(ray: GeodesicRay, trace: Trace): void {
    const placed = trace.grid;
    if (placed === null) return;
    const window = 1.5 * placed.cellM;
    const from = Math.max(0, trace.distanceM - window);
    const to = Math.min(this.radiusM, trace.distanceM + window);
    const fine: Trace = { ...trace, slope: Number.NEGATIVE_INFINITY, distanceM: Number.NaN, grid: null, level: 0 };
    this.#gap.forget();
    ray.moveTo(from);
    for (const [near, far] of [
      [from, trace.distanceM],
      [trace.distanceM, to],
    ] as const) {
      if (!(far - near > 1e-3)) continue;
      const east = ray.eastDeg;
      const north = ray.northDeg;
      ray.moveTo(far);
      this.#followChord(east, north, ray.eastDeg, ray.northDeg, near, far, placed, fine, undefined);
    }
    if (fine.grid === null) return;
    trace.slope = fine.slope;
    trace.distanceM = fine.distanceM;
  }

  #closeGap(trace: Trace, toM: number, onUnknownCell: UnknownCellListener | undefined): void {
    if (!this.#gap.isOpen) return;
    const { fromM } = this.#gap;
    this.#gap.report(onUnknownCell);
    noteUnknown(trace, fromM, this.eyeElevationM, this.#halfCurvature);
    this.#seeTheSea(trace, fromM, toM);
  }

  /**
   * Where the ground is not known the horizon is at least that of a sea there, or of a plain at the viewpoint's own height where that
   * lies lower: its tangent, or the nearest to it that is in the stretch.
   */
  #seeTheSea(trace: Trace, fromM: number, toM: number): void {
    const distance = Math.min(toM, Math.max(fromM, Math.sqrt(2 * this.#effectiveRadiusM * this.#heightOverSeaM)));
    const slope = this.#seaSlope(distance);
    if (!(slope > trace.slope)) return;
    trace.slope = slope;
    trace.distanceM = distance;
    trace.grid = null;
  }

  #seaSlope(distanceM: number): number {
    return -this.#heightOverSeaM / distanceM - distanceM * this.#halfCurvature;
  }
}

const newTrace = (): Trace => ({
  slope: Number.NEGATIVE_INFINITY,
  distanceM: Number.NaN,
  grid: null,
  unknownSlope: Number.NEGATIVE_INFINITY,
  unknownFromM: Number.POSITIVE_INFINITY,
  level: 0,
});
