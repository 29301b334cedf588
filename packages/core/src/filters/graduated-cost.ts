import { requireInRange } from "../domain-error";
import type { FrameProjection } from "../framing/projection";
import type { SkylineInFrame, StraightLine } from "../framing/skyline";
import type { GraduatedTransition } from "./filter";
import { graduatedShare } from "./graduated-transition";

/** A thing that stands across the skyline, as an angular box round its middle. */
export interface GraduatedObstacle {
  readonly name?: string | undefined;
  /** Of its middle, degrees clockwise from true north. */
  readonly azimuthDeg: number;
  /** Of its middle [deg], -90 to 90. */
  readonly altitudeDeg: number;
  /** [deg], above 0, to 180. */
  readonly widthDeg: number;
  /** [deg], above 0, to 180. */
  readonly heightDeg: number;
}

/** Something that is not sky and gets darkened. */
export interface DarkenedThing {
  readonly what: "skyline" | "obstacle";
  readonly name: string;
  /** At its top, where it is darkest [stops]. */
  readonly maxStops: number;
  /** On the mean over what of it is in the frame [stops]; of the skyline, over what of it is above the line. */
  readonly meanStops: number;
  /** How much of the frame's width it takes [%]. */
  readonly widthPercent: number;
}

// Our own choice: a third of a stop is the least darkening that shows
export const SHOWS_FROM_STOPS = 1 / 3;

interface Laid {
  readonly stops: number;
  readonly transition: GraduatedTransition;
  /** Of its edge in the frame. */
  readonly softness: number;
}

/** How far the skyline rises over the line at most [per cent of the frame's height]; 0 where it nowhere does. */
export function highestOverLine({ points }: SkylineInFrame, line: StraightLine): number {
  let highest = 0;
  for (const { x, y } of points) highest = Math.max(highest, abovePercent(line, x, y));
  return highest;
}

/** What a filter darkens a peak by that rises so far over the line [stops]: on the line itself it darkens by half whatever one does. */
export function stopsOnPeak({ stops, transition, softness }: Laid, highestPercent: number): number {
  return stops * (graduatedShare(transition, highestPercent, softness) - graduatedShare(transition, 0, softness));
}

/** What of the skyline itself rises over the line; empty where nothing does. */
export function darkenedPeak({ points }: SkylineInFrame, line: StraightLine, filter: Laid): DarkenedThing[] {
  // a skyline on the line is darkened by half the filter whatever one does; what rises over it counts from there
  const base = filter.stops * graduatedShare(filter.transition, 0, filter.softness);
  const rises = points
    .map(({ x, y }) => abovePercent(line, x, y))
    .filter((above) => above > 0)
    .map((above) => filter.stops * graduatedShare(filter.transition, above, filter.softness) - base);
  if (rises.length === 0) return [];
  return [
    {
      what: "skyline",
      name: "the skyline where it rises over the line",
      maxStops: Math.max(...rises),
      meanStops: rises.reduce((sum, stops) => sum + stops, 0) / rises.length,
      widthPercent: (100 * rises.length) / points.length,
    },
  ];
}

const SAMPLES = 12;

/** @throws DomainError for an angle out of range, named as a field of `obstacles` */
export function darkenedObstacles(
  obstacles: readonly GraduatedObstacle[],
  projection: FrameProjection,
  line: StraightLine,
  filter: Laid,
): DarkenedThing[] {
  return obstacles.flatMap((obstacle, i) => {
    const { azimuthDeg, altitudeDeg, widthDeg, heightDeg } = checked(obstacle, `obstacles.${i}`);
    let count = 0;
    let sum = 0;
    let maxStops = 0;
    let left = 1;
    let right = 0;
    for (let column = 0; column <= SAMPLES; column++) {
      const azimuth = azimuthDeg + widthDeg * (column / SAMPLES - 0.5);
      for (let row = 0; row <= SAMPLES; row++) {
        const altitude = altitudeDeg + heightDeg * (row / SAMPLES - 0.5);
        if (altitude > 90 || altitude < -90) continue;
        const at = projection.toFrame(azimuth, altitude);
        if (at === null || at.x < 0 || at.x > 1 || at.y < 0 || at.y > 1) continue;
        const darker =
          filter.stops * graduatedShare(filter.transition, abovePercent(line, at.x, at.y), filter.softness);
        count++;
        sum += darker;
        maxStops = Math.max(maxStops, darker);
        left = Math.min(left, at.x);
        right = Math.max(right, at.x);
      }
    }
    // out of the frame
    if (count === 0) return [];
    const name = obstacle.name ?? `what stands at ${azimuthDeg.toFixed(0)}°`;
    const widthPercent = 100 * Math.max(0, right - left);
    return [{ what: "obstacle", name, maxStops, meanStops: sum / count, widthPercent }];
  });
}

function checked(obstacle: GraduatedObstacle, param: string): GraduatedObstacle {
  requireInRange(`${param}.azimuthDeg`, obstacle.azimuthDeg, -360, 720, "deg");
  requireInRange(`${param}.altitudeDeg`, obstacle.altitudeDeg, -90, 90, "deg");
  requireInRange(`${param}.widthDeg`, obstacle.widthDeg, 0.01, 180, "deg");
  requireInRange(`${param}.heightDeg`, obstacle.heightDeg, 0.01, 180, "deg");
  return obstacle;
}

/** Height over the line [per cent of the frame's height]. */
function abovePercent(line: StraightLine, x: number, y: number): number {
  return 100 * (line.yLeft + (line.yRight - line.yLeft) * x - y);
}
