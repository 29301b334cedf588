import type { FrameProjection } from "../framing/projection";
import type { SkylineInFrame, StraightLine } from "../framing/skyline";
import type { SkyPoint } from "../sky/sky-types";
import type { GraduatedTransition } from "./filter";
import { highestOverLine, SHOWS_FROM_STOPS, stopsOnPeak } from "./graduated-cost";
import { edgeSoftness, largestStrayPercent } from "./graduated-transition";

/** What an edge is laid along. */
interface EdgeRequest {
  readonly skyline: SkylineInFrame;
  readonly projection: FrameProjection;
  readonly sun?: SkyPoint | undefined;
}

// Sharpest first: a hard edge takes the whole sky where the skyline lets it
const BY_SHARPNESS: readonly GraduatedTransition[] = ["hard", "medium", "soft"];

// Our own choice: a reverse filter is for a sun whose light lies along the horizon, up to some ten of its diameters
// over the skyline and as far under it as the sky still glows there
const REVERSE_SUN_ABOVE_DEG = 5;
const REVERSE_SUN_BELOW_DEG = -4;

/**
 * The transitions that the skyline bears, the one to prefer first: a reverse filter for a sun on the line, then the
 * sharpest that does not show on the skyline's own peaks, then those that show, the least first.
 */
export function graduatedEdges(
  { skyline, projection, sun }: EdgeRequest,
  line: StraightLine,
  wantedStops: number,
): GraduatedTransition[] {
  const softness = edgeSoftness(projection);
  const highestPercent = highestOverLine(skyline, line);
  const bears = (transition: GraduatedTransition): boolean =>
    line.residualRmsPercent <= largestStrayPercent(transition, softness);
  const plain = BY_SHARPNESS.filter(bears)
    .map((transition) => {
      const stopsOnPeaks = stopsOnPeak({ stops: wantedStops, transition, softness }, highestPercent);
      return { transition, shows: stopsOnPeaks < SHOWS_FROM_STOPS ? 0 : stopsOnPeaks };
    })
    .sort((a, b) => a.shows - b.shows)
    .map(({ transition }) => transition);
  if (!bears("reverse") || sun === undefined || !sunOnLine(line, projection, sun)) return plain;
  return ["reverse", ...plain];
}

function sunOnLine(line: StraightLine, projection: FrameProjection, sun: SkyPoint): boolean {
  const at = projection.toFrame(sun.azimuthDeg, sun.altitudeDeg);
  if (at === null || at.x < 0 || at.x > 1) return false;
  const onLine = projection.toSky(at.x, line.yLeft + (line.yRight - line.yLeft) * at.x);
  const above = sun.altitudeDeg - onLine.altitudeDeg;
  return above <= REVERSE_SUN_ABOVE_DEG && above >= REVERSE_SUN_BELOW_DEG;
}
