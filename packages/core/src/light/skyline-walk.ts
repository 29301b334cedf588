import { wrap360 } from "../angles";
import type { HorizonProfile } from "../horizon/profile";
import { lastIndexAtOrBelow } from "../interpolation";
import { type Cubic, cubicAt, turningPoints, whereCubicIs } from "./cubic";

/** Whether the skyline stays below `bottomDeg` or above `topDeg` all along a swing from an azimuth, and by an overshoot beyond its ends [deg]. */
export function keepsClear(
  { azimuthsDeg, altitudesDeg }: HorizonProfile,
  fromDeg: number,
  swingDeg: number,
  overshootDeg: number,
  bottomDeg: number,
  topDeg: number,
): boolean {
  const n = azimuthsDeg.length;
  const startDeg = wrap360(fromDeg + Math.min(0, swingDeg) - overshootDeg);
  const endDeg = startDeg + Math.abs(swingDeg) + 2 * overshootDeg;
  let node = lastIndexAtOrBelow(azimuthsDeg, startDeg);
  let turns = 0;
  if (node < 0) {
    node = n - 1;
    turns = -360;
  }
  let below = true;
  let above = true;
  for (let count = 0; count <= n; count++) {
    const altitude = altitudesDeg[node] as number;
    if (altitude >= bottomDeg) below = false;
    if (altitude <= topDeg) above = false;
    if (!(below || above)) return false;
    // the node at or beyond the end closes the last straight line
    if ((azimuthsDeg[node] as number) + turns >= endDeg) break;
    node++;
    if (node === n) {
      node = 0;
      turns += 360;
    }
  }
  return true;
}

/** A stretch of a piece on which the skyline is straight: where it begins and ends, the skyline's altitude there [deg], and how it slopes against azimuth. */
export type VisitStretch = (u0: number, u1: number, s0: number, s1: number, slope: number) => void;

/** Follows the skyline under a piece, from node to node, in the order in which the azimuth passes them. */
export function walkNodes(
  { azimuthsDeg, altitudesDeg }: HorizonProfile,
  fromDeg: number,
  azimuth: Cubic,
  visit: VisitStretch,
): void {
  let left = lastIndexAtOrBelow(azimuthsDeg, fromDeg);
  let leftDeg = onAndOn(azimuthsDeg, left, 360) - fromDeg;
  let rightDeg = onAndOn(azimuthsDeg, left + 1, 360) - fromDeg;
  let leftAltitude = onAndOn(altitudesDeg, left, 0);
  let rightAltitude = onAndOn(altitudesDeg, left + 1, 0);
  let slope = (rightAltitude - leftAltitude) / (rightDeg - leftDeg);
  let u0 = 0;
  let s0 = leftAltitude - slope * leftDeg;
  const turns = turningPoints(azimuth);
  for (let run = 0; run <= turns.length; run++) {
    const stop = turns[run] ?? 1;
    const endDeg = cubicAt(azimuth, stop);
    const clockwise = endDeg >= cubicAt(azimuth, u0);
    while (clockwise ? rightDeg < endDeg : leftDeg > endDeg) {
      const u1 = whereCubicIs(azimuth, clockwise ? rightDeg : leftDeg, u0, stop);
      const s1 = clockwise ? rightAltitude : leftAltitude;
      visit(u0, u1, s0, s1, slope);
      u0 = u1;
      s0 = s1;
      if (clockwise) {
        left++;
        leftDeg = rightDeg;
        leftAltitude = rightAltitude;
        rightDeg = onAndOn(azimuthsDeg, left + 1, 360) - fromDeg;
        rightAltitude = onAndOn(altitudesDeg, left + 1, 0);
      } else {
        left--;
        rightDeg = leftDeg;
        rightAltitude = leftAltitude;
        leftDeg = onAndOn(azimuthsDeg, left, 360) - fromDeg;
        leftAltitude = onAndOn(altitudesDeg, left, 0);
      }
      slope = (rightAltitude - leftAltitude) / (rightDeg - leftDeg);
    }
    const s1 = leftAltitude + slope * (endDeg - leftDeg);
    visit(u0, stop, s0, s1, slope);
    u0 = stop;
    s0 = s1;
  }
}

/** An entry of a list that goes on and on round the compass, at either end, and gains `turn` each time round. */
function onAndOn(values: readonly number[], node: number, turn: number): number {
  const turns = Math.floor(node / values.length);
  return (values[node - turns * values.length] as number) + turn * turns;
}
