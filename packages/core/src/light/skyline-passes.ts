import { wrap180 } from "../angles";
import type { HorizonProfile } from "../horizon/profile";
import type { Crossing } from "../roots";
import type { SkyPosition } from "../sky/horizontal";
import type { SkyTrack } from "../sky/track";
import { type Cubic, fitCubic } from "./cubic";
import { LONGEST_PIECE_MS, limbPasses, WIDEST_PIECE_DEG } from "./limb-passes";
import { keepsClear, type VisitStretch, walkNodes } from "./skyline-walk";

/** A limb stands no further than this from where the centre is seen [deg]: 16′, and what the air lifts it more or less. */
const LIMB_REACH_DEG = 0.4;
/** Pieces are halved no further than this. */
const SHORTEST_PIECE_MS = 1000;
// A body that turns back on its way round the compass overshoots the ends of a piece by less than half a degree, on pieces up to 24 minutes while it
// stands under 45° and up to 6 minutes under 80°: half of |A''|·(t/2)², with |A''| at most 2·(15°/h)²/cos² of its altitude
const LONG_PIECE_MS = 24 * 60_000;
const LOW_SUN_DEG = 45;
const HIGH_SUN_DEG = 80;

/**
 * When the sun's upper and lower limb pass the skyline, in order of time [Unix ms]; rising is coming into sight.
 *
 * Where the sun stands clear above or below all of the profile nothing can pass. The rest is halved into pieces on which cubics stand in for azimuth and
 * limbs, and each piece is walked from node to node of the profile. Between nodes the skyline is straight, so that its distance from the limb is a cubic
 * too: it tells where there can be no edge, and where there is one, which is then found on the true curve. Where the limb runs so close along the skyline
 * that the cubic cannot tell, the true curve is searched in short steps.
 * @param cuts ends of the span and, between them, where the sun turns from rising to falling or back [Unix ms]
 * @param lowestDeg altitude of the lowest node of the profile [deg]
 * @param highestDeg that of the highest [deg]
 */
export function skylinePasses(
  track: SkyTrack,
  cuts: readonly number[],
  profile: HorizonProfile,
  lowestDeg: number,
  highestDeg: number,
): { readonly upper: readonly Crossing[]; readonly lower: readonly Crossing[] } {
  const upper = limbPasses(track, profile, "upper");
  const lower = limbPasses(track, profile, "lower");
  const azimuth: Cubic = new Float64Array(4);

  const visit: VisitStretch = (u0, u1, s0, s1, slope) => {
    upper.cross(azimuth, u0, u1, s0, s1, slope);
    lower.cross(azimuth, u0, u1, s0, s1, slope);
  };
  const halve = (a: number, atA: SkyPosition, b: number, atB: SkyPosition): void => {
    const bottomDeg = Math.min(atA.altitudeDeg, atB.altitudeDeg) - LIMB_REACH_DEG;
    const topDeg = Math.max(atA.altitudeDeg, atB.altitudeDeg) + LIMB_REACH_DEG;
    if (topDeg < lowestDeg || bottomDeg > highestDeg) return;
    const swingDeg = wrap180(atB.azimuthDeg - atA.azimuthDeg);
    const steady = b - a <= LONG_PIECE_MS && topDeg < (b - a <= LONGEST_PIECE_MS ? HIGH_SUN_DEG : LOW_SUN_DEG);
    if (steady && keepsClear(profile, atA.azimuthDeg, swingDeg, bottomDeg, topDeg)) return;
    const wide = Math.abs(swingDeg) > WIDEST_PIECE_DEG && b - a > SHORTEST_PIECE_MS;
    if (wide || b - a > LONGEST_PIECE_MS) {
      const middle = (a + b) / 2;
      const atMiddle = track(middle);
      halve(a, atA, middle, atMiddle);
      halve(middle, atMiddle, b, atB);
      return;
    }
    const one = track(a + (b - a) / 3);
    const two = track(b - (b - a) / 3);
    const swingOneDeg = wrap180(one.azimuthDeg - atA.azimuthDeg);
    const swingTwoDeg = wrap180(two.azimuthDeg - atA.azimuthDeg);
    fitCubic(azimuth, 0, swingOneDeg, swingTwoDeg, swingDeg);
    const sun = [atA, one, two, atB] as const;
    upper.enter(a, b, sun);
    lower.enter(a, b, sun);
    walkNodes(profile, atA.azimuthDeg, azimuth, visit);
  };

  let a = cuts[0] as number;
  let atA = track(a);
  for (const b of cuts.slice(1)) {
    const atB = track(b);
    halve(a, atA, b, atB);
    a = b;
    atA = atB;
  }
  return { upper: upper.edges, lower: lower.edges };
}
