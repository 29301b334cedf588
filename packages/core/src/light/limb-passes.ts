import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass } from "../interpolation";
import { type Crossing, type Curve, findCrossings, polishRoot } from "../roots";
import type { SkyTrack } from "../sky/track";
import { type Cubic, cubicAt, cubicSlopeAt, fitCubic } from "./cubic";
import { type Limb, limbAltitudeDeg } from "./sun-limb";

/** How finely edges are found [ms]. */
const EDGE_TOLERANCE_MS = 20;
/** Step of the search where a limb runs along the skyline. */
const FINE_STEP_MS = 10_000;
// On pieces up to LONGEST_PIECE_MS and WIDEST_PIECE_DEG a cubic is within NEAR_DEG of the limb, or within NEAR_LEVEL_DEG where the lift of the air breaks
// off at the level; held by tests/core/light/limb-passes.spec.ts
export const LONGEST_PIECE_MS = 6 * 60_000;
export const WIDEST_PIECE_DEG = 5;
export const NEAR_DEG = 0.001;
export const NEAR_LEVEL_DEG = 0.03;

/** How high a limb stands above the skyline [deg] at an instant. */
export function limbClearance(track: SkyTrack, profile: HorizonProfile, limb: Limb): Curve {
  const { azimuthsDeg, altitudesDeg } = profile;
  return (ms) => {
    const sun = track(ms);
    return limbAltitudeDeg(sun, limb) - interpolateRoundCompass(azimuthsDeg, altitudesDeg, sun.azimuthDeg);
  };
}

export interface LimbPasses {
  readonly edges: readonly Crossing[];
  /** Begins a piece: its ends [Unix ms], and how high the limb stands at the ends and the thirds [deg]. */
  enter(a: number, b: number, limbDeg: Float64Array): void;
  /** Adds the edges of a stretch of it. */
  cross(azimuth: Cubic, u0: number, u1: number, s0: number, s1: number, slope: number): void;
}

/** Gathers the passes of one limb, piece by piece. */
export function limbPasses(track: SkyTrack, profile: HorizonProfile, which: Limb): LimbPasses {
  const clearance = limbClearance(track, profile, which);
  const edges: Crossing[] = [];
  const limb: Cubic = new Float64Array(4);
  let startMs = 0;
  let lengthMs = 0;
  let nearDeg = NEAR_DEG;
  const instantAt = (u: number, endMs: number): number => (u === 1 ? endMs : startMs + u * lengthMs);
  return {
    edges,
    enter(a, b, limbDeg) {
      const y0 = limbDeg[0] as number;
      const y3 = limbDeg[3] as number;
      startMs = a;
      lengthMs = b - a;
      nearDeg = Math.min(y0, y3) < 0.5 && Math.max(y0, y3) > -0.5 ? NEAR_LEVEL_DEG : NEAR_DEG;
      fitCubic(limb, y0, limbDeg[1] as number, limbDeg[2] as number, y3);
    },
    cross(azimuth, u0, u1, s0, s1, slope) {
      const du = u1 - u0;
      if (!(du > 0)) return;
      const c0 = cubicAt(limb, u0) - s0;
      const c1 = cubicAt(limb, u1) - s1;
      // half the second derivative of the clearance: its square and cube alone bend it away from its chord
      const square = (limb[2] as number) - slope * (azimuth[2] as number);
      const cube = 3 * ((limb[3] as number) - slope * (azimuth[3] as number));
      const bend = (Math.max(Math.abs(square + cube * u0), Math.abs(square + cube * u1)) * du * du) / 4;
      if (Math.min(c0, c1) - bend > nearDeg || Math.max(c0, c1) + bend < -nearDeg) return;
      const t0 = instantAt(u0, startMs + lengthMs);
      const t1 = instantAt(u1, startMs + lengthMs);
      const plain = c0 > nearDeg !== c1 > nearDeg && c0 < -nearDeg !== c1 < -nearDeg && Math.abs(c1 - c0) > 4 * bend;
      if (!plain) {
        edges.push(...findCrossings(clearance, t0, t1, FINE_STEP_MS, EDGE_TOLERANCE_MS));
        return;
      }
      const across = (u: number): number =>
        cubicAt(limb, u) - s0 - slope * (cubicAt(azimuth, u) - cubicAt(azimuth, u0));
      const rate = (u: number): number => cubicSlopeAt(limb, u) - slope * cubicSlopeAt(azimuth, u);
      let u = u0 + (du * c0) / (c0 - c1);
      for (let i = 0; i < 3; i++) u = Math.min(u1, Math.max(u0, u - across(u) / rate(u)));
      const x = polishRoot(clearance, startMs + u * lengthMs, rate(u) / lengthMs, t0, t1, EDGE_TOLERANCE_MS);
      edges.push({ x, direction: c1 > c0 ? "rising" : "falling" });
    },
  };
}
