import { wrap360 } from "../angles";
import type { HorizonProfile } from "../horizon/profile";
import { lastIndexAtOrBelow } from "../interpolation";
import { type Cubic, cubicAt, turningPoints, whereCubicIs } from "./cubic";

/** How far beyond the ends of a swing {@link keepsClear} looks [deg]. */
const OVERSHOOT_DEG = 0.5;

/** Whether the skyline stays below `bottomDeg` or above `topDeg` all along a swing from an azimuth, and a little beyond its ends. */
export function keepsClear(
  { azimuthsDeg, altitudesDeg }: HorizonProfile,
  fromDeg: number,
  swingDeg: number,
  bottomDeg: number,
  topDeg: number,
): boolean {
  const n = azimuthsDeg.length;
  const startDeg = wrap360(fromDeg + Math.min(0, swingDeg) - OVERSHOOT_DEG);
  const endDeg = startDeg + Math.abs(swingDeg) + 2 * OVERSHOOT_DEG;
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
  const n = azimuthsDeg.length;
  // nodes are counted on and on round the compass, and measured from where the piece begins
  const turnsAt = (node: number): number => Math.floor(node / n);
  const azimuthAt = (node: number): number =>
    (azimuthsDeg[node - turnsAt(node) * n] as number) + 360 * turnsAt(node) - fromDeg;
  const altitudeAt = (node: number): number => altitudesDeg[node - turnsAt(node) * n] as number;
  let left = lastIndexAtOrBelow(azimuthsDeg, fromDeg);
  let leftDeg = azimuthAt(left);
  let rightDeg = azimuthAt(left + 1);
  let leftAltitude = altitudeAt(left);
  let rightAltitude = altitudeAt(left + 1);
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
        rightDeg = azimuthAt(left + 1);
        rightAltitude = altitudeAt(left + 1);
      } else {
        left--;
        rightDeg = leftDeg;
        rightAltitude = leftAltitude;
        leftDeg = azimuthAt(left);
        leftAltitude = altitudeAt(left);
      }
      slope = (rightAltitude - leftAltitude) / (rightDeg - leftDeg);
    }
    const s1 = leftAltitude + slope * (endDeg - leftDeg);
    visit(u0, stop, s0, s1, slope);
    u0 = stop;
    s0 = s1;
  }
}
