import type { Chord } from "./chords";
import { type Clip, clipLine, holds } from "./clip";
import { Gap, type UnknownCellListener } from "./gap";
import type { Mosaic, PlacedGrid } from "./mosaic";
import { type Eye, noteUnknown, type Trace } from "./trace";
import { type GridLine, traceAcross } from "./trace-across";

/** Stretches shorter than this are passed over [m]. */
export const NOTHING_M = 1e-3;

/** Follows straight lines over all the grids of a mosaic, and keeps account of where there are none. */
export class ChordWalk {
  readonly #mosaic: Mosaic;
  readonly #gap: Gap;
  readonly #eye: Eye;
  readonly #halfCurvature: number;
  readonly #clip: Clip = { from: 0, to: 0 };
  readonly #line: GridLine = { column: 0, row: 0, columnRate: 0, rowRate: 0, fromM: 0, toM: 0 };

  /** @param latitude of the viewpoint [deg]; likewise the longitude */
  constructor(mosaic: Mosaic, latitude: number, longitude: number, eye: Eye) {
    this.#mosaic = mosaic;
    this.#gap = new Gap(latitude, longitude);
    this.#eye = eye;
    this.#halfCurvature = 0.5 / eye.effectiveRadiusM;
  }

  /** Begins another ray. */
  begin(): void {
    this.#gap.forget();
  }

  /** Follows one chord over all grids that it crosses; returns the grid that it ends in. */
  follow(
    chord: Chord,
    start: PlacedGrid | null,
    trace: Trace,
    onUnknownCell: UnknownCellListener | undefined,
  ): PlacedGrid | null {
    const within =
      start !== null &&
      !start.overlaid &&
      holds(start, chord.east0, chord.north0) &&
      holds(start, chord.east1, chord.north1);
    if (!within) return this.#followOver(chord, trace, onUnknownCell);
    this.#followIn(start, chord, 0, 1, trace, onUnknownCell);
    return start;
  }

  /** Follows a chord over ground that no grid covers. */
  followNowhere(chord: Chord, onUnknownCell: UnknownCellListener | undefined): void {
    if (!this.#gap.isOpen) this.#gap.fromM = chord.fromM;
    if (onUnknownCell !== undefined) this.#gap.noteCells(chord, 0, 1);
  }

  /** From grid to grid, and over what lies between. */
  #followOver(chord: Chord, trace: Trace, onUnknownCell: UnknownCellListener | undefined): PlacedGrid | null {
    const { east0, north0, east1, north1, fromM, toM } = chord;
    const { grids } = this.#mosaic;
    const clip = this.#clip;
    const span = toM - fromM;
    const nothing = NOTHING_M / span;
    // a hair wider than the chord, for lines along a grid's edge
    const west = Math.min(east0, east1) - 1e-9;
    const east = Math.max(east0, east1) + 1e-9;
    const south = Math.min(north0, north1) - 1e-9;
    const north = Math.max(north0, north1) + 1e-9;
    let t = 0;
    let current: PlacedGrid | null = null;
    while (t < 1 - nothing) {
      let end = 1;
      let opening = 1;
      current = null;
      for (let o = 0; o < grids.length; o++) {
        const placed = grids[o] as PlacedGrid;
        const { box } = placed;
        if (west > box.east || east < box.west || south > box.north || north < box.south) continue;
        if (!clipLine(placed, east0, north0, east1, north1, clip)) continue;
        if (clip.to <= t + nothing || clip.to - clip.from <= nothing) continue;
        if (clip.from > t + nothing) opening = Math.min(opening, clip.from);
        else {
          current = placed;
          end = Math.min(clip.to, opening);
          break;
        }
      }
      if (current === null) {
        if (!this.#gap.isOpen) this.#gap.fromM = fromM + t * span;
        if (onUnknownCell !== undefined) this.#gap.noteCells(chord, t, opening);
        t = opening;
      } else {
        this.#followIn(current, chord, t, end, trace, onUnknownCell);
        t = end;
      }
    }
    return current;
  }

  /** Follows a part of a chord, from t to end, that lies in one grid. */
  #followIn(
    placed: PlacedGrid,
    chord: Chord,
    t: number,
    end: number,
    trace: Trace,
    onUnknownCell: UnknownCellListener | undefined,
  ): void {
    const span = chord.toM - chord.fromM;
    const d = chord.fromM + t * span;
    const gap = this.#gap;
    if (gap.isOpen) {
      // neighbours whose cells were centred leave one cell between them: nothing hides in it
      if (d - gap.fromM <= 2 * placed.cellM) gap.forget();
      else this.closeGap(trace, d, onUnknownCell);
    }
    this.#lineOver(placed, chord, t, d, end === 1 ? chord.toM : chord.fromM + end * span);
    traceAcross(placed, this.#line, this.#eye, trace);
    if (trace.voids.length > 0) this.#followVoids(chord, this.#mosaic.grids.indexOf(placed) + 1, trace);
  }

  /** The line that a chord is on a grid, from its part t on, which lies at a distance, to another distance [m]. */
  #lineOver(placed: PlacedGrid, chord: Chord, t: number, fromM: number, toM: number): void {
    const { columnsPerDeg, rowsPerDeg } = placed;
    const east = chord.east1 - chord.east0;
    const north = chord.north1 - chord.north0;
    const span = chord.toM - chord.fromM;
    const line = this.#line;
    line.column = placed.column0 + (chord.east0 + t * east) * columnsPerDeg;
    line.row = placed.row0 - (chord.north0 + t * north) * rowsPerDeg;
    line.columnRate = (east / span) * columnsPerDeg;
    line.rowRate = (-north / span) * rowsPerDeg;
    line.fromM = fromM;
    line.toM = toM;
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
    const { east0, north0, east1, north1, fromM: from } = chord;
    const span = chord.toM - from;
    for (let o = order; o < grids.length; o++) {
      const placed = grids[o] as PlacedGrid;
      if (!clipLine(placed, east0, north0, east1, north1, this.#clip)) continue;
      const enterM = Math.max(fromM, from + this.#clip.from * span);
      const leaveM = Math.min(toM, from + this.#clip.to * span);
      if (leaveM - enterM <= NOTHING_M) continue;
      this.#followUnder(chord, o + 1, fromM, enterM, trace);
      this.#lineOver(placed, chord, (enterM - from) / span, enterM, leaveM);
      traceAcross(placed, this.#line, this.#eye, trace);
      this.#followVoids(chord, o + 1, trace);
      this.#followUnder(chord, o + 1, leaveM, toM, trace);
      return;
    }
    noteUnknown(trace, fromM, this.#eye.elevationM, this.#halfCurvature);
  }

  /** Ends a stretch without grids at a distance [m]: what lies in it is unknown, and no lower than the sea. */
  closeGap(trace: Trace, toM: number, onUnknownCell: UnknownCellListener | undefined): void {
    if (!this.#gap.isOpen) return;
    const { fromM } = this.#gap;
    this.#gap.report(onUnknownCell);
    noteUnknown(trace, fromM, this.#eye.elevationM, this.#halfCurvature);
    this.seeTheSea(trace, fromM, toM);
  }

  /**
   * Where the ground is not known the horizon is at least that of a sea there, or of a plain at the viewpoint's own height where that
   * lies lower: its tangent, or the nearest to it that is in the stretch.
   */
  seeTheSea(trace: Trace, fromM: number, toM: number): void {
    const distance = Math.min(
      toM,
      Math.max(fromM, Math.sqrt(2 * this.#eye.effectiveRadiusM * this.#eye.heightOverSeaM)),
    );
    const slope = this.seaSlope(distance);
    if (!(slope > trace.slope)) return;
    trace.slope = slope;
    trace.distanceM = distance;
    trace.grid = null;
  }

  /** Slope of the line of sight to the sea at a distance [m], or to a plain at the viewpoint's own height where that lies lower. */
  seaSlope(distanceM: number): number {
    return -this.#eye.heightOverSeaM / distanceM - distanceM * this.#halfCurvature;
  }
}
