import { RADIANS_PER_DEGREE, sinDeg } from "../angles";
import { fresnelAtCosine, fresnelReflectance, WATER_REFRACTIVE_INDEX } from "../sky/fresnel";
import {
  cross,
  type Direction,
  dot,
  type FrameLook,
  type PolarizerFrame,
  passedShare,
  type Swing,
  unit,
} from "./polarizer-rays";

export type WetSurface = "still-water" | "wet-sand";

/** What a look at a wet surface brings through the filter, by its rotation. */
export interface Glare {
  readonly depressionDeg: number;
  /** Share of unpolarized light that the surface throws toward the camera [1]. */
  readonly reflectance: number;
  /** Of that, what an ideal filter passes [1], by the sine and cosine of the rotation. */
  passed(sinRotation: number, cosRotation: number): number;
}

// Our own estimate, no source: how far the film on a beach that the wave has just left is tilted [deg], root mean square
const SLOPE_DEG: Readonly<Record<WetSurface, number>> = { "still-water": 0, "wet-sand": 5 };

// Three-point Gauss-Hermite quadrature for a normal distribution (Abramowitz & Stegun 1964, table 25.10)
const TILTS: readonly (readonly [sigmas: number, weight: number])[] = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
];

/**
 * Compute what a polarizer at its best leaves of the glare of a smooth surface: the light that swings along the surface is
 * stopped whole, the rest passes.
 * @param incidenceDeg from the normal [deg], 0 to 90
 * @param refractiveIndex [1], 1 to 4; default 1.333, water
 * @returns share of the reflected light that an ideal filter passes [1], 0 to 0.5; half is what it takes from any light
 * @throws DomainError outside those ranges
 * Source: Fresnel's equations, Rp / (Rs + Rp). Held by the golden rows `glare`, 1e-5.
 * @example leastGlareShare(60) // 0.036135
 */
export function leastGlareShare(incidenceDeg: number, refractiveIndex = WATER_REFRACTIVE_INDEX): number {
  const { s, p } = fresnelReflectance(incidenceDeg, refractiveIndex);
  return s + p === 0 ? 0.5 : p / (s + p);
}

/** The glare that one look meets on a level wet surface; the light that falls on it is taken as unpolarized. */
export function glareAt(frame: PolarizerFrame, look: FrameLook, surface: WetSurface, refractiveIndex: number): Glare {
  const facets: { readonly s: number; readonly p: number; readonly swing: Swing }[] = [];
  let total = 0;
  for (const { normal, weight } of facetsOf(look, SLOPE_DEG[surface])) {
    const cosIn = -dot(look.along, normal);
    // a facet turned away is not seen
    if (cosIn <= 0) continue;
    const { s, p } = fresnelAtCosine(cosIn, refractiveIndex);
    // straight down on it the two are alike: any direction will do
    const along =
      cosIn > 1 - 1e-12 ? cross(look.along, [look.along[2], look.along[0], look.along[1]]) : cross(look.along, normal);
    facets.push({ s: weight * s, p: weight * p, swing: frame.swing(look, unit(along)) });
    total += weight * (s + p);
  }
  return {
    depressionDeg: -look.altitudeDeg,
    reflectance: total / 2,
    passed(sin, cos) {
      if (total === 0) return 0.5;
      let sum = 0;
      for (const { s, p, swing } of facets) {
        const alongSurface = passedShare(swing, sin, cos);
        sum += s * alongSurface + p * (1 - alongSurface);
      }
      return sum / total;
    },
  };
}

function facetsOf({ along }: FrameLook, slopeDeg: number): { normal: Direction; weight: number }[] {
  if (slopeDeg === 0) return [{ normal: [0, 0, 1], weight: 1 }];
  const level = Math.hypot(along[0], along[1]);
  // away from the camera, and across; straight down any way will do
  const away: Direction = level < 1e-9 ? [0, 1, 0] : [along[0] / level, along[1] / level, 0];
  const slope = sinDeg(slopeDeg) / Math.cos(slopeDeg * RADIANS_PER_DEGREE);
  return TILTS.flatMap(([lengthwise, share]) =>
    TILTS.map(([crosswise, part]) => {
      const a = slope * lengthwise;
      const c = slope * crosswise;
      return { normal: unit([a * away[0] + c * away[1], a * away[1] - c * away[0], 1]), weight: share * part };
    }),
  );
}
