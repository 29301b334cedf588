import { requireInRange, requirePositive } from "../domain-error";

/** A printed polynomial: log10 of illuminance [lx] in powers of altitude/90°, from an altitude up to the next piece. */
interface Piece {
  readonly fromDeg: number;
  readonly powers: readonly [number, number, number, number];
  /** Width over which the piece is led into the next [deg]. */
  readonly joinDeg: number;
}

// Explanatory Supplement to the Astronomical Almanac, 3rd ed. 2013 (Urban & Seidelmann), natural illumination, after Janiczek & DeYoung 1987,
// USNO Circular 171: sun, clear sky. Printed maximum error 0.02 in log10, a fifteenth of a stop.
// The pieces miss each other by up to 1 % where they meet, which a long exposure would see as a step. Each is led into the next over its last
// degree; over less at sunset, so that what is printed for it stays.
const SUN_PIECES: readonly Piece[] = [
  { fromDeg: -18, powers: [13.84, 262.72, 1447.42, 2797.93], joinDeg: 1 },
  { fromDeg: -12, powers: [2.7, 12.17, -431.69, -1899.83], joinDeg: 1 },
  { fromDeg: -5, powers: [2.88, 21.81, -258.11, -858.36], joinDeg: 0.03 },
  { fromDeg: -0.8, powers: [2.88, 22.26, -207.64, 1034.3], joinDeg: 1 },
  { fromDeg: 5, powers: [3.05, 13.28, -45.98, 64.33], joinDeg: 1 },
  { fromDeg: 20, powers: [3.74, 3.97, -4.07, 1.47], joinDeg: 1 },
];

// The same: full moon at its mean distance. Printed maximum error 0.03 in log10.
const MOON_PIECES: readonly Piece[] = [
  { fromDeg: -0.8, powers: [-2.79, 24.27, -252.95, 1321.29], joinDeg: 1 },
  { fromDeg: 5, powers: [-2.58, 12.58, -42.58, 59.06], joinDeg: 1 },
  { fromDeg: 20, powers: [-1.95, 4.06, -4.24, 1.56], joinDeg: 1 },
];

const MOON_MEAN_DISTANCE_KM = 384_400;

/**
 * Light of a clear moonless night sky on level ground, stars and airglow together [lx].
 * Source: Spitschan, Aguirre, Brainard & Sweeney 2016, Sci. Rep. 6:26756. Airglow alone comes and goes by a factor of two within a solar cycle.
 */
export const nightGlowLux = 0.001;

/**
 * Compute the illuminance that sun and sky together give level ground under a clear, open sky.
 * @param trueAltitudeDeg airless altitude of the sun's centre [deg], -90 to 90
 * @returns [lx], greater than 0
 * @throws DomainError outside that range
 * Source: Explanatory Supplement to the Astronomical Almanac 2013, after Janiczek & DeYoung 1987 (USNO Circular 171), printed for -18° to 90°.
 * Below -18° it goes on falling at the pace it has there, 0.7 stops a degree: our own choice, so that twilight ends without a step.
 * Accuracy: 1/100 stop of the printed polynomials, which give 1/15 stop; real clear skies stray by half a stop, and by a stop in twilight.
 * The circular's own program differs by up to 0.55 stops down to -10°, and is too dark below. Held by the golden rows `es` and `c171`.
 * @example sunIlluminanceLux(-6) // 3.41
 */
export function sunIlluminanceLux(trueAltitudeDeg: number): number {
  return sunLuxAt(requireInRange("trueAltitudeDeg", trueAltitudeDeg, -90, 90, "deg"));
}

/** {@link sunIlluminanceLux} of a value in range. */
export function sunLuxAt(trueAltitudeDeg: number): number {
  return 10 ** logIlluminance(SUN_PIECES, trueAltitudeDeg);
}

/**
 * Compute the illuminance that the moon and the sky it lights give level ground under a clear, open sky.
 * @param trueAltitudeDeg airless altitude of the moon's centre as seen from the place [deg], -90 to 90
 * @param phaseAngleDeg angle between sun and earth as seen from the moon [deg], 0 (full) to 180 (new)
 * @param distanceKm distance of the moon [km], greater than 0; default the mean, 384,400
 * @returns [lx], 0 or more
 * @throws DomainError outside those ranges
 * Source: as {@link sunIlluminanceLux}, with its factor for phase, −0.00868·f − 2.2e-9·f⁴ in log10. Below -0.8° moonlit twilight is taken to fade
 * as the sun's does: our own choice.
 * Accuracy: 1/10 stop for the full moon by the source; a thin crescent less. Held by the golden rows `es.moon`.
 * @example moonIlluminanceLux(60, 0) // 0.216
 */
export function moonIlluminanceLux(
  trueAltitudeDeg: number,
  phaseAngleDeg: number,
  distanceKm: number = MOON_MEAN_DISTANCE_KM,
): number {
  requireInRange("trueAltitudeDeg", trueAltitudeDeg, -90, 90, "deg");
  requireInRange("phaseAngleDeg", phaseAngleDeg, 0, 180, "deg");
  requirePositive("distanceKm", distanceKm, "km");
  return moonLuxAt(trueAltitudeDeg, phaseAngleDeg, distanceKm);
}

/** {@link moonIlluminanceLux} of values in range. */
export function moonLuxAt(
  trueAltitudeDeg: number,
  phaseAngleDeg: number,
  distanceKm: number = MOON_MEAN_DISTANCE_KM,
): number {
  const nearness = MOON_MEAN_DISTANCE_KM / distanceKm;
  const rising = lowestOf(MOON_PIECES);
  const full =
    trueAltitudeDeg >= rising
      ? logIlluminance(MOON_PIECES, trueAltitudeDeg)
      : logIlluminance(MOON_PIECES, rising) +
        logIlluminance(SUN_PIECES, trueAltitudeDeg) -
        logIlluminance(SUN_PIECES, rising);
  const dimming = -0.00868 * phaseAngleDeg - 2.2e-9 * phaseAngleDeg ** 4;
  return 10 ** (full + dimming) * nearness * nearness;
}

function lowestOf(pieces: readonly Piece[]): number {
  return (pieces[0] as Piece).fromDeg;
}

function logIlluminance(pieces: readonly Piece[], altitudeDeg: number): number {
  const lowest = pieces[0] as Piece;
  if (altitudeDeg < lowest.fromDeg) {
    return logAt(lowest, lowest.fromDeg) + slopeAt(lowest, lowest.fromDeg) * (altitudeDeg - lowest.fromDeg);
  }
  let i = pieces.length - 1;
  while (altitudeDeg < (pieces[i] as Piece).fromDeg) i--;
  const piece = pieces[i] as Piece;
  const value = logAt(piece, altitudeDeg);
  const next = pieces[i + 1];
  if (next === undefined) return value;
  const along = 1 - (next.fromDeg - altitudeDeg) / piece.joinDeg;
  return along <= 0 ? value : value + along * (logAt(next, next.fromDeg) - logAt(piece, next.fromDeg));
}

function logAt({ powers: [a, b, c, d] }: Piece, altitudeDeg: number): number {
  const x = altitudeDeg / 90;
  return a + x * (b + x * (c + x * d));
}

/** Change of the logarithm in a degree. */
function slopeAt({ powers: [, b, c, d] }: Piece, altitudeDeg: number): number {
  const x = altitudeDeg / 90;
  return (b + x * (2 * c + x * 3 * d)) / 90;
}
