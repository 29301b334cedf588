import { ChordWalk, NOTHING_M } from "./chord-walk";
import { type Chord, chordBreaks, PAST_THE_POLE_DEG, polarChordM } from "./chords";
import type { UnknownCellListener } from "./gap";
import { type GeodesicRay, GeodesicRays } from "./geodesic-rays";
import type { Mosaic, PlacedGrid } from "./mosaic";
import { groundIn } from "./placed-ground";
import { SlopeBounds } from "./slope-bounds";
import { clearTrace, type Eye, newTrace, type Trace } from "./trace";

/** So many azimuths are worth the bounds of all sectors. */
const WORTH_BOUNDS = 24;

/** Finds the steepest line of sight along one geodesic after another from a viewpoint. */
export class SkylineSearch {
  readonly #mosaic: Mosaic;
  readonly #latitudeDeg: number;
  readonly #eye: Eye;
  readonly #radiusM: number;
  readonly #halfCurvature: number;
  readonly #rays: GeodesicRays;
  readonly #walk: ChordWalk;
  /** Distances at which the rings meet [m]; away from the poles the chords of every ray do so too. */
  readonly #breaks: Float64Array;
  readonly #trace = newTrace();
  readonly #fine = newTrace();
  readonly #chord: Chord = { east0: 0, north0: 0, east1: 0, north1: 0, fromM: 0, toM: 0 };
  #bounds: SlopeBounds | null = null;
  #searched = 0;
  /** Distance of what made the last azimuth's skyline [m], to start the next one from. */
  #startM = Number.NaN;

  constructor(mosaic: Mosaic, latitudeDeg: number, longitudeDeg: number, radiusM: number, eye: Eye) {
    this.#mosaic = mosaic;
    this.#latitudeDeg = latitudeDeg;
    this.#eye = eye;
    this.#radiusM = radiusM;
    this.#halfCurvature = 0.5 / eye.effectiveRadiusM;
    this.#walk = new ChordWalk(mosaic, latitudeDeg, longitudeDeg, eye);
    this.#rays = new GeodesicRays(latitudeDeg, radiusM);
    this.#breaks = chordBreaks(radiusM, this.#rays.polar ? 0 : latitudeDeg);
  }

  /** The skyline along an azimuth [deg]; whatever was searched before, the answer is the same. The next call takes it away again. */
  along(azimuthDeg: number, onUnknownCell: UnknownCellListener | undefined): Trace {
    const ray = this.#rays.ray(azimuthDeg);
    const trace = this.#trace;
    clearTrace(trace);
    this.#startWarm(ray, trace);
    this.#follow(ray, azimuthDeg, trace, onUnknownCell);
    if (Number.isNaN(trace.distanceM)) {
      // what it was to start from lies in or beside a void, which the search does not enter: so without it
      clearTrace(trace);
      this.#follow(ray, azimuthDeg, trace, onUnknownCell);
    }
    this.#startM = trace.distanceM;
    this.#refine(ray, trace);
    return trace;
  }

  /**
   * What made the last azimuth's horizon mostly makes this one's: ground there, or the sea where none is known, is a lower bound, and
   * the search can skip below it.
   */
  #startWarm(ray: GeodesicRay, trace: Trace): void {
    const distance = this.#startM;
    if (!(distance > 1)) return;
    const ground = distance < this.#radiusM ? this.#groundOnChord(ray, distance) : null;
    const slope =
      ground === null
        ? this.#walk.seaSlope(distance)
        : (ground - this.#eye.elevationM) / distance - distance * this.#halfCurvature;
    // a hair less, so that the search finds the same again
    trace.slope = slope - 1e-11;
  }

  /** Ground on the same chord that the search will follow, so that a bound by it holds to the last digit. */
  #groundOnChord(ray: GeodesicRay, distance: number): number | null {
    const breaks = this.#breaks;
    let k = 0;
    while ((breaks[k + 1] as number) < distance) k++;
    let from = breaks[k] as number;
    const ringEnd = breaks[k + 1] as number;
    ray.moveTo(from);
    let to = this.#chordEnd(ray, from, ringEnd);
    while (to < distance) {
      from = to;
      ray.moveTo(from);
      to = this.#chordEnd(ray, from, ringEnd);
    }
    const east = ray.eastDeg;
    const north = ray.northDeg;
    ray.moveTo(to);
    const t = (distance - from) / (to - from);
    return groundIn(this.#mosaic, east + (ray.eastDeg - east) * t, north + (ray.northDeg - north) * t);
  }

  /** Where the chord ends that begins where the ray stands. */
  #chordEnd(ray: GeodesicRay, from: number, ringEnd: number): number {
    return this.#rays.polar ? Math.min(ringEnd, from + polarChordM(from, ray.axisM)) : ringEnd;
  }

  #boundsNow(): SlopeBounds | null {
    if (this.#bounds === null && ++this.#searched >= WORTH_BOUNDS) {
      this.#bounds = new SlopeBounds(this.#mosaic, this.#latitudeDeg, this.#eye, this.#breaks);
    }
    return this.#bounds;
  }

  #follow(ray: GeodesicRay, azimuthDeg: number, trace: Trace, onUnknownCell: UnknownCellListener | undefined): void {
    const breaks = this.#breaks;
    const rings = breaks.length - 1;
    const eyeM = this.#eye.elevationM;
    const effectiveRadiusM = this.#eye.effectiveRadiusM;
    const halfCurvature = this.#halfCurvature;
    const ceilingM = this.#mosaic.ceilingM;
    const walk = this.#walk;
    const polar = this.#rays.polar;
    const bounds = this.#boundsNow();
    const sector = bounds === null ? 0 : bounds.sectorAt(azimuthDeg);
    walk.begin();
    // where the ray stands: at the end of the chord before, or nowhere after a ring that was passed over
    let at = -1;
    let current: PlacedGrid | null = null;
    for (let ring = 0; ring < rings; ring++) {
      const slope = trace.slope;
      if (bounds !== null && slope >= (bounds.within[sector + ring] as number)) {
        walk.closeGap(trace, breaks[ring] as number, onUnknownCell);
        if (slope >= (bounds.beyond[sector + ring] as number)) break;
        continue;
      }
      const from = breaks[ring] as number;
      const to = breaks[ring + 1] as number;
      // past its lowest point the line of sight only rises
      if (from >= -slope * effectiveRadiusM && eyeM + slope * from + from * from * halfCurvature > ceilingM) {
        walk.closeGap(trace, from, onUnknownCell);
        return;
      }
      if (at !== from) {
        ray.moveTo(from);
        current = null;
      }
      at = to;
      if (polar) {
        current = this.#followPolar(ray, from, to, current, trace, onUnknownCell);
        continue;
      }
      const chord = this.#chordOn(ray, from, to);
      if (bounds?.isEmpty(sector + ring)) {
        walk.followNowhere(chord, onUnknownCell);
        current = null;
      } else current = walk.follow(chord, current, trace, onUnknownCell);
    }
    walk.closeGap(trace, this.#radiusM, onUnknownCell);
    walk.seeTheSea(trace, this.#radiusM, Number.POSITIVE_INFINITY);
  }

  /** The chord from a distance, where the ray stands, to another, where it is left [m]; the next call takes it away again. */
  #chordOn(ray: GeodesicRay, fromM: number, toM: number): Chord {
    const chord = this.#chord;
    chord.east0 = ray.eastDeg;
    chord.north0 = ray.northDeg;
    ray.moveTo(toM);
    chord.east1 = ray.eastDeg;
    chord.north1 = ray.northDeg;
    chord.fromM = fromM;
    chord.toM = toM;
    return chord;
  }

  /** From one distance to another in chords as short as the turn of the meridians asks for; the ray stands at the first, and is left at the last. */
  #followPolar(
    ray: GeodesicRay,
    fromM: number,
    toM: number,
    start: PlacedGrid | null,
    trace: Trace,
    onUnknownCell: UnknownCellListener | undefined,
  ): PlacedGrid | null {
    let current = start;
    for (let from = fromM; from < toM; ) {
      const to = this.#chordEnd(ray, from, toM);
      const chord = this.#chordOn(ray, from, to);
      if (Math.abs(chord.east1 - chord.east0) > PAST_THE_POLE_DEG) current = null;
      else current = this.#walk.follow(chord, current, trace, onUnknownCell);
      from = to;
    }
    return current;
  }

  /** Chords miss the geodesic by up to a metre or two far out: the ground round the winner is followed again on short ones. */
  #refine(ray: GeodesicRay, trace: Trace): void {
    const placed = trace.grid;
    if (placed === null) return;
    const window = 1.5 * placed.cellM;
    const middle = trace.distanceM;
    const from = Math.max(0, middle - window);
    const to = Math.min(this.#radiusM, middle + window);
    const fine = this.#fine;
    clearTrace(fine);
    this.#walk.begin();
    ray.moveTo(from);
    this.#followFine(ray, from, middle, placed, fine);
    this.#followFine(ray, middle, to, placed, fine);
    if (fine.grid === null) return;
    trace.slope = fine.slope;
    trace.distanceM = fine.distanceM;
  }

  #followFine(ray: GeodesicRay, from: number, to: number, placed: PlacedGrid, fine: Trace): void {
    if (!(to - from > NOTHING_M)) return;
    if (this.#rays.polar) {
      this.#followPolar(ray, from, to, placed, fine, undefined);
      return;
    }
    this.#walk.follow(this.#chordOn(ray, from, to), placed, fine, undefined);
  }
}
