import { acosDeg, cosDeg, RADIANS_PER_DEGREE, sinDeg } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { SkyPoint } from "./sky-types";

/** Number of a CIE standard general sky, 1 (overcast, steep) to 15 (white-blue, broad corona). */
export type CieSkyType = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9 | 10 | 11 | 12 | 13 | 14 | 15;

/** What a sky type is made of: gradation a, b from zenith to horizon; indicatrix c, d, e round the sun. */
export interface CieSky {
  readonly type: CieSkyType;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly description: string;
}

// CIE S 011/E:2003 = ISO 15469:2004, table 1
const GRADATION = { I: [4, -0.7], II: [1.1, -0.8], III: [0, -1], IV: [-1, -0.55], V: [-1, -0.32], VI: [-1, -0.15] };
const INDICATRIX = [
  [0, -1, 0],
  [2, -1.5, 0.15],
  [5, -2.5, 0.3],
  [10, -3, 0.45],
  [16, -3, 0.3],
  [24, -2.8, 0.15],
];
const TYPES: readonly (readonly [keyof typeof GRADATION, indicatrix: number, description: string])[] = [
  ["I", 1, "overcast, steep gradation towards the zenith, the same all round"],
  ["I", 2, "overcast, steep gradation, slightly brighter towards the sun"],
  ["II", 1, "overcast, moderate gradation, the same all round"],
  ["II", 2, "overcast, moderate gradation, slightly brighter towards the sun"],
  ["III", 1, "uniform"],
  ["III", 2, "partly cloudy, no gradation, slightly brighter towards the sun"],
  ["III", 3, "partly cloudy, no gradation, brighter round the sun"],
  ["III", 4, "partly cloudy, no gradation, distinct corona"],
  ["IV", 2, "partly cloudy, the sun hidden"],
  ["IV", 3, "partly cloudy, brighter round the sun"],
  ["IV", 4, "white-blue, distinct corona"],
  ["V", 4, "clear, low turbidity"],
  ["V", 5, "clear, polluted air"],
  ["VI", 5, "cloudless and turbid, broad corona"],
  ["VI", 6, "white-blue and turbid, broad corona"],
];

/** The fifteen standard skies in order: type n is at index n − 1. */
export const CIE_SKIES: readonly CieSky[] = Object.freeze(
  TYPES.map(([gradation, indicatrix, description], index): CieSky => {
    const [a, b] = GRADATION[gradation] as [number, number];
    const [c, d, e] = INDICATRIX[indicatrix - 1] as [number, number, number];
    return Object.freeze({ type: (index + 1) as CieSkyType, a, b, c, d, e, description });
  }),
);

/** Look up the sky of a type. @throws DomainError for a number that is not a whole one from 1 to 15 */
export function cieSky(type: number): CieSky {
  const sky = CIE_SKIES[type - 1];
  if (sky === undefined) throw new DomainError({ param: "skyType", given: type, allowed: "a whole number, 1 to 15" });
  return sky;
}

/** Gradation φ from zenith to horizon, by the sine of the altitude; 1 on the horizon and below. */
export function gradation(sky: CieSky, sinAltitude: number): number {
  return sinAltitude > 0 ? 1 + sky.a * Math.exp(sky.b / sinAltitude) : 1;
}

/** Indicatrix f round the sun, by the cosine of the angle from it. */
export function indicatrix(sky: CieSky, cosFromSun: number): number {
  const chi = acosDeg(cosFromSun) * RADIANS_PER_DEGREE;
  return 1 + sky.c * (Math.exp(sky.d * chi) - Math.exp((sky.d * Math.PI) / 2)) + sky.e * cosFromSun * cosFromSun;
}

/**
 * Compute the luminance of a direction of a standard sky against that of its zenith.
 * @param type 1 to 15
 * @param direction azimuth and altitude [deg], altitude 0 to 90
 * @param sun azimuth and altitude [deg], altitude 0 to 90
 * @returns L/Lz [1]
 * @throws DomainError outside those ranges
 * Source: ISO 15469:2004 = CIE S 011/E:2003: L/Lz = f(χ)·φ(Z) / (f(Zs)·φ(0)). Accuracy: 1e-6; held by the golden rows
 * `cie`.
 * @example relativeSkyLuminance(12, { azimuthDeg: 180, altitudeDeg: 45 }, { azimuthDeg: 0, altitudeDeg: 60 }) //
 * 0.4544524
 */
export function relativeSkyLuminance(type: number, direction: SkyPoint, sun: SkyPoint): number {
  const sky = cieSky(type);
  const sinAltitude = sinDeg(requireInRange("direction.altitudeDeg", direction.altitudeDeg, 0, 90, "deg"));
  const sinSun = sinDeg(requireInRange("sun.altitudeDeg", sun.altitudeDeg, 0, 90, "deg"));
  const apart = cosDeg(requireInRange("direction.azimuthDeg", direction.azimuthDeg - sun.azimuthDeg, -720, 720, "deg"));
  const cosFromSun = sinAltitude * sinSun + cosDeg(direction.altitudeDeg) * cosDeg(sun.altitudeDeg) * apart;
  return (indicatrix(sky, cosFromSun) * gradation(sky, sinAltitude)) / (indicatrix(sky, sinSun) * gradation(sky, 1));
}
