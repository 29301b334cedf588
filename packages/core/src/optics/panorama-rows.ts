import { atanDeg, cosDeg, sinDeg, tanDeg } from "../angles";
import { findRoot } from "../roots";

/** Half of what a frame takes in, how much neighbours share, and how wide the panorama is. */
export interface PanoramaFrame {
  /** Half the horizontal and vertical angle of view [deg]. */
  readonly halfWidthDeg: number;
  readonly halfHeightDeg: number;
  /** Part of a frame that its neighbour covers again, 0 to 0.8. */
  readonly overlap: number;
  /** [deg], up to 360 */
  readonly horizontalDeg: number;
}

export interface RowColumns {
  readonly columns: number;
  /** Turn from one frame to the next [deg]; 0 for a single one. */
  readonly yawStepDeg: number;
}

// Counts a hair over a whole number are rounding
const HAIR = 1e-9;

/** How many frames a row at a pitch [deg] takes, so that neighbours share the overlap even at the narrower edge of the frame. */
export function columnsAt(pitchDeg: number, frame: PanoramaFrame): RowColumns {
  const { overlap, horizontalDeg } = frame;
  const half = narrowHalfWidth(pitchDeg, frame);
  const widestStep = 2 * half * (1 - overlap);
  const closed = Math.ceil(360 / widestStep - HAIR);
  const open = Math.max(1, Math.ceil((horizontalDeg - 2 * half) / widestStep - HAIR) + 1);
  const columns = horizontalDeg >= 360 ? closed : Math.min(open, closed);
  // the outer frames reach past the edge by no more than is needed, and as little as the inner ones lean on their corners
  return { columns, yawStepDeg: columns === 1 ? 0 : Math.min(widestStep, horizontalDeg / columns) };
}

/**
 * The pitches [deg] of the fewest evenly spaced rows that hold the sky from one altitude to another over the whole width. Edges of a tilted
 * or level frame bend toward the horizon away from the middle, and that is allowed for.
 * @returns ascending pitches; null where more than `most` rows would be needed
 */
export function rowPitches(
  minAltitudeDeg: number,
  maxAltitudeDeg: number,
  frame: PanoramaFrame,
  most: number,
): number[] | null {
  const first = lowestRow(minAltitudeDeg, frame);
  const last = -lowestRow(-maxAltitudeDeg, frame);
  if (last <= first) {
    const middle = (minAltitudeDeg + maxAltitudeDeg) / 2;
    return [Math.min(first, Math.max(last, middle))];
  }
  const pitchesOf = (rows: number): number[] =>
    Array.from({ length: rows }, (_, i) => (i === rows - 1 ? last : first + ((last - first) * i) / (rows - 1)));
  const holds = (rows: number): boolean => {
    const pitches = pitchesOf(rows);
    return pitches.every(
      (upper, i) => i === 0 || bottomAtWorst(upper, frame) <= -bottomAtWorst(-(pitches[i - 1] as number), frame),
    );
  };
  const widestStep = 2 * frame.halfHeightDeg * (1 - frame.overlap);
  const rows = fewestThatHold(Math.ceil((last - first) / widestStep - HAIR) + 1, most, holds);
  return rows === null ? null : pitchesOf(rows);
}

/** The smallest count from `least` to `most` that holds, where more hold too; null where none does. */
function fewestThatHold(least: number, most: number, holds: (count: number) => boolean): number | null {
  let tooFew = least - 1;
  let enough = least;
  while (!(enough <= most && holds(enough))) {
    if (enough >= most) return null;
    tooFew = enough;
    enough = Math.min(most, enough * 2);
  }
  while (enough - tooFew > 1) {
    const middle = (tooFew + enough) >> 1;
    if (holds(middle)) enough = middle;
    else tooFew = middle;
  }
  return enough;
}

/** The altitude [deg] down to which a row at a pitch holds the sky everywhere; the mirror image of it is the altitude up to which. */
export function bottomOf(pitchDeg: number, frame: PanoramaFrame): number {
  const { columns, yawStepDeg } = columnsAt(pitchDeg, frame);
  const outer = (frame.horizontalDeg - (columns - 1) * yawStepDeg) / 2;
  const offset = frame.horizontalDeg >= 360 ? yawStepDeg / 2 : Math.max(yawStepDeg / 2, outer);
  return bentEdge(pitchDeg - frame.halfHeightDeg, offset);
}

/** The highest pitch [deg] of a row that still holds everything from an altitude on. */
function lowestRow(minAltitudeDeg: number, frame: PanoramaFrame): number {
  if (bottomAtWorst(90, frame) <= minAltitudeDeg) return 90;
  // from the pitch on at which the frame just reaches the nadir
  const start = -90 + frame.halfHeightDeg;
  return findRoot((pitch) => bottomAtWorst(pitch, frame) - minAltitudeDeg, start, 90, 1e-9);
}

/** As bottomOf, as if the frames stood as far apart as they may: it changes smoothly with the pitch, and is never lower. */
function bottomAtWorst(pitchDeg: number, frame: PanoramaFrame): number {
  const half = narrowHalfWidth(pitchDeg, frame);
  const offset = frame.horizontalDeg >= 360 ? half * (1 - frame.overlap) : Math.min(half, frame.horizontalDeg / 2);
  return bentEdge(pitchDeg - frame.halfHeightDeg, offset);
}

/** The lower edge of a frame, at an altitude [deg] in its middle, seen at an azimuth off the middle: tan h = cos Δ·tan e. */
function bentEdge(edgeDeg: number, offsetDeg: number): number {
  // above the horizon it bends outward and does no harm
  if (edgeDeg >= 0) return edgeDeg;
  if (edgeDeg <= -90) return -90;
  return atanDeg(cosDeg(offsetDeg) * tanDeg(edgeDeg));
}

/** Half the azimuth that a frame spans where it is narrowest, its edge toward the horizon [deg]. */
function narrowHalfWidth(pitchDeg: number, { halfWidthDeg, halfHeightDeg }: PanoramaFrame): number {
  const pitch = Math.abs(pitchDeg);
  return atanDeg(tanDeg(halfWidthDeg) / (cosDeg(pitch) + tanDeg(halfHeightDeg) * sinDeg(pitch)));
}
