import { type Clip, clipLine, holds } from "./clip";
import { Gap, type UnknownCellListener } from "./gap";
import type { Mosaic, PlacedGrid } from "./mosaic";
import { noteUnknown, type Trace, traceAcross } from "./trace";

/** Stretches shorter than this are passed over [m]. */
export const NOTHING_M = 1e-3;

/** A straight line in longitude and latitude, as offsets from the viewpoint [deg], that begins at a distance and spans another [m]. */
interface Chord {
  readonly east0: number;
  readonly north0: number;
  readonly east1: number;
  readonly north1: number;
  readonly from: number;
  readonly span: number;
}

/** Where the eye is and how its lines of sight run. */
export interface Eye {
  /** Above the sea [m]. */
  readonly elevationM: number;
  /** Above the sea, or above a plain at the viewpoint's own height where that lies lower [m]. */
  readonly heightOverSeaM: number;
  /** Of the Earth, refraction in it [m]. */
  readonly effectiveRadiusM: number;
}

/** Follows straight lines over all the grids of a mosaic, and keeps account of where there are none. */
export class ChordWalk {
  readonly #mosaic: Mosaic;
  readonly #gap: Gap;
  readonly #eyeM: number;
  readonly #heightOverSeaM: number;
  readonly #effectiveRadiusM: number;
  readonly #halfCurvature: number;
  readonly #clip: Clip = { from: 0, to: 0 };

  /** @param latitude of the viewpoint [deg]; likewise the longitude */
  constructor(mosaic: Mosaic, latitude: number, longitude: number, eye: Eye) {
    this.#mosaic = mosaic;
    this.#gap = new Gap(latitude, longitude);
    this.#eyeM = eye.elevationM;
    this.#heightOverSeaM = eye.heightOverSeaM;
    this.#effectiveRadiusM = eye.effectiveRadiusM;
    this.#halfCurvature = 0.5 / eye.effectiveRadiusM;
  }

  /** Begins another ray. */
  begin(): void {
    this.#gap.forget();
  }

  /** Follows one chord over all grids that it crosses; returns the grid that it ends in. */
  follow(
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
    const nothing = NOTHING_M / span;
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
      else this.closeGap(trace, d, onUnknownCell);
      const until = end === 1 ? to : from + end * span;
      traceAcross(
        current,
        current.column0 + (east0 + t * (east1 - east0)) * current.columnsPerDeg,
        current.row0 - (north0 + t * (north1 - north0)) * current.rowsPerDeg,
        eastRate * current.columnsPerDeg,
        -northRate * current.rowsPerDeg,
        d,
        until,
        this.#eyeM,
        this.#effectiveRadiusM,
        trace,
      );
      if (trace.voids.length > 0) {
        const chord: Chord = { east0, north0, east1, north1, from, span };
        this.#followVoids(chord, this.#mosaic.grids.indexOf(current) + 1, trace);
      }
      t = end;
    }
    return current;
  }

  /** Where a grid has voids, the grids after it in the order of preference count. */
  #followVoids(chord: Chord, order: number, trace: Trace): void {
    const { voids } = trace;
    trace.voids = [];
    for (let i = 0; i < voids.length; i += 2) {
      this.#followUnder(chord, order, voids[i] as number, voids[i + 1] as number, trace);
    }
  }

  /** Follows a stretch of a chord over the grids from a place in the order of preference on; what none of them knows is unknown. */
  #followUnder(chord: Chord, order: number, fromM: number, toM: number, trace: Trace): void {
    // a corner cut by less hides nothing
    if (toM - fromM <= NOTHING_M) return;
    const { grids } = this.#mosaic;
    const { east0, north0, east1, north1, from, span } = chord;
    const eastRate = (east1 - east0) / span;
    const northRate = (north1 - north0) / span;
    for (let o = order; o < grids.length; o++) {
      const placed = grids[o] as PlacedGrid;
      if (!clipLine(placed, east0, north0, east1, north1, this.#clip)) continue;
      const enterM = Math.max(fromM, from + this.#clip.from * span);
      const leaveM = Math.min(toM, from + this.#clip.to * span);
      if (leaveM - enterM <= NOTHING_M) continue;
      this.#followUnder(chord, o + 1, fromM, enterM, trace);
      traceAcross(
        placed,
        placed.column0 + (east0 + (enterM - from) * eastRate) * placed.columnsPerDeg,
        placed.row0 - (north0 + (enterM - from) * northRate) * placed.rowsPerDeg,
        eastRate * placed.columnsPerDeg,
        -northRate * placed.rowsPerDeg,
        enterM,
        leaveM,
        this.#eyeM,
        this.#effectiveRadiusM,
        trace,
      );
      this.#followVoids(chord, o + 1, trace);
      this.#followUnder(chord, o + 1, leaveM, toM, trace);
      return;
    }
    noteUnknown(trace, fromM, this.#eyeM, this.#halfCurvature);
  }

  /** Ends a stretch without grids at a distance [m]: what lies in it is unknown, and no lower than the sea. */
  closeGap(trace: Trace, toM: number, onUnknownCell: UnknownCellListener | undefined): void {
    if (!this.#gap.isOpen) return;
    const { fromM } = this.#gap;
    this.#gap.report(onUnknownCell);
    noteUnknown(trace, fromM, this.#eyeM, this.#halfCurvature);
    this.seeTheSea(trace, fromM, toM);
  }

  /**
   * Where the ground is not known the horizon is at least that of a sea there, or of a plain at the viewpoint's own height where that
   * lies lower: its tangent, or the nearest to it that is in the stretch.
   */
  seeTheSea(trace: Trace, fromM: number, toM: number): void {
    const distance = Math.min(toM, Math.max(fromM, Math.sqrt(2 * this.#effectiveRadiusM * this.#heightOverSeaM)));
    const slope = this.seaSlope(distance);
    if (!(slope > trace.slope)) return;
    trace.slope = slope;
    trace.distanceM = distance;
    trace.grid = null;
  }

  /** Slope of the line of sight to the sea at a distance [m], or to a plain at the viewpoint's own height where that lies lower. */
  seaSlope(distanceM: number): number {
    return -this.#heightOverSeaM / distanceM - distanceM * this.#halfCurvature;
  }
}
