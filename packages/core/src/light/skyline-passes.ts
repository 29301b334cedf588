import type { SkyCourse } from "../almanac/course";
import { wrap180 } from "../angles";
import type { HorizonProfile } from "../horizon/profile";
import type { Crossing } from "../roots";
import type { SkyPosition } from "../sky/horizontal";
import { MOST_LIFT_DEG } from "../sky/refraction";
import { type Cubic, fitCubic } from "./cubic";
import { LONGEST_PIECE_MS, limbPasses, WIDEST_PIECE_DEG } from "./limb-passes";
import { keepsClear, type VisitStretch, walkNodes } from "./skyline-walk";
import { putLimbs } from "./sun-limb";

/** A limb stands no further than this from where the centre is seen [deg]: 16′, and what the air lifts it more or less. */
const LIMB_REACH_DEG = 0.4;
/** Pieces are halved no further than this. */
const SHORTEST_PIECE_MS = 1000;
// A body that turns back on its way round the compass overshoots the ends of a piece by less than half a degree, on pieces up to 24 minutes while it
// stands under 45° and up to 6 minutes under 80°: half of |A''|·(t/2)², with |A''| at most 2·(15°/h)²/cos² of its altitude. It falls with the square of t.
const OVERSHOOT_DEG = 0.5;
const LONG_PIECE_MS = 24 * 60_000;
const LOW_SUN_DEG = 45;
const HIGH_SUN_DEG = 80;

/**
 * When the sun's upper and lower limb pass the skyline, in order of time [Unix ms]; rising is coming into sight.
 *
 * Where the sun stands clear above or below all of the profile nothing can pass. The rest is cut and halved into pieces on which cubics stand in for azimuth and
 * limbs, and each piece is walked from node to node of the profile. Between nodes the skyline is straight, so that its distance from the limb is a cubic
 * too: it tells where there can be no edge, and where there is one, which is then found on the true curve. Where the limb runs so close along the skyline
 * that the cubic cannot tell, the true curve is searched in short steps.
 * @param course the sun's
 * @param lowestDeg altitude of the lowest node of the profile [deg]
 * @param highestDeg that of the highest [deg]
 */
export function skylinePasses(
  { track, between }: SkyCourse,
  profile: HorizonProfile,
  lowestDeg: number,
  highestDeg: number,
): { readonly upper: readonly Crossing[]; readonly lower: readonly Crossing[] } {
  const upper = limbPasses(track, profile, "upper");
  const lower = limbPasses(track, profile, "lower");
  const azimuth: Cubic = new Float64Array(4);
  const upperDeg = new Float64Array(4);
  const lowerDeg = new Float64Array(4);

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
    const overshootDeg = topDeg < LOW_SUN_DEG ? OVERSHOOT_DEG * ((b - a) / LONG_PIECE_MS) ** 2 : OVERSHOOT_DEG;
    if (steady && keepsClear(profile, atA.azimuthDeg, swingDeg, overshootDeg, bottomDeg, topDeg)) return;
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
    putLimbs(atA, upperDeg, lowerDeg, 0);
    putLimbs(one, upperDeg, lowerDeg, 1);
    putLimbs(two, upperDeg, lowerDeg, 2);
    putLimbs(atB, upperDeg, lowerDeg, 3);
    upper.enter(a, b, upperDeg);
    lower.enter(a, b, lowerDeg);
    walkNodes(profile, atA.azimuthDeg, azimuth, visit);
  };

  const lowDeg = Math.max(-90, lowestDeg - LIMB_REACH_DEG - MOST_LIFT_DEG);
  const highDeg = Math.min(90, highestDeg + LIMB_REACH_DEG);
  for (const stretch of between(lowDeg, highDeg)) {
    if (stretch === undefined) continue;
    const [fromMs, toMs] = stretch;
    const count = Math.ceil((toMs - fromMs) / LONG_PIECE_MS);
    let a = fromMs;
    let atA = track(a);
    for (let i = 1; i <= count; i++) {
      const b = i === count ? toMs : fromMs + ((toMs - fromMs) * i) / count;
      const atB = track(b);
      halve(a, atA, b, atB);
      a = b;
      atA = atB;
    }
  }
  return { upper: upper.edges, lower: lower.edges };
}
