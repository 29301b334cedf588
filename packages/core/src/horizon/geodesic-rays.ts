import geodesic from "geographiclib-geodesic";
import { RADIANS_PER_DEGREE } from "../angles";

const WGS84 = geodesic.Geodesic.WGS84;

/** Degree of the polynomial in distance. */
const DEGREE = 8;
/** Rings of exact solves, and azimuths on half of each: the other half mirrors it. */
const RINGS = 4;
const HALF_AZIMUTHS = 10;

/** Up to this latitude offsets in degrees are polynomials; nearer the poles the meridians converge too fast for that. */
const POLYNOMIAL_LATITUDE_DEG = 70;

// WGS 84: semi-major axis and flattening, NIMA 2000, Technical Report 8350.2, table 3.1
const EQUATOR_M = 6_378_137;
const FLATTENING = 1 / 298.257_223_563;
const ECCENTRICITY_SQUARED = FLATTENING * (2 - FLATTENING);

/** The way along one azimuth: moves to a distance [m] and leaves the offsets from the viewpoint there [deg]. */
export interface GeodesicRay {
  moveTo(distanceM: number): void;
  eastDeg: number;
  northDeg: number;
  /** Distance from the Earth's axis [m]; infinite where the poles are too far to matter. */
  axisM: number;
}

/**
 * Geodesics of WGS 84 that leave one viewpoint, as offsets in longitude and latitude against distance.
 *
 * Up to 70° of latitude the offsets themselves are polynomials in distance; nearer the poles, and on them, the place on the ellipsoid is,
 * in coordinates of the viewpoint's own north, east and up, which no pole troubles. By symmetry north and up are even and east is odd
 * about the meridian, and the term in distance to the power k holds waves of azimuth of k, k − 2, … turns only; so exact solves on four
 * rings of ten azimuths give them all. At a pole itself azimuths count from the meridian of the longitude given: as the limit along that
 * meridian has them, 180° at the North Pole and 0° at the South Pole look down it. Accuracy: 1 mm out to 150 km up to 60° of latitude,
 * 10 cm up to 70°, 1 mm beyond; held by tests/core/horizon/geodesic-rays.spec.ts.
 */
export class GeodesicRays {
  /** Whether poles are so near that chords must follow the turn of the meridians. */
  readonly polar: boolean;
  readonly #polynomial: PolynomialRay;
  /** Coefficients, power of distance by power and in each wave of azimuth by wave: cosines of north and up, sines of east. */
  readonly #north: Float64Array;
  readonly #east: Float64Array;
  readonly #up: Float64Array | null;
  /** Cosines and sines of the turns of one azimuth. */
  readonly #cos = new Float64Array(DEGREE + 1);
  readonly #sin = new Float64Array(DEGREE + 1);

  constructor(latitudeDeg: number, radiusM: number) {
    this.polar = Math.abs(latitudeDeg) > POLYNOMIAL_LATITUDE_DEG;
    this.#polynomial = this.polar ? new PolarRay(radiusM, latitudeDeg) : new PolynomialRay(radiusM);
    const north = new Float64Array(RINGS * (HALF_AZIMUTHS + 1));
    const east = new Float64Array(north.length);
    const up = new Float64Array(north.length);
    const rings = ringRadii();
    const frame = new LocalFrame(latitudeDeg);
    for (let a = 0; a <= HALF_AZIMUTHS; a++) {
      const line = WGS84.DirectLine(latitudeDeg, 0, (180 * a) / HALF_AZIMUTHS, radiusM);
      for (let r = 0; r < RINGS; r++) {
        const there = line.Position((rings[r] as number) * radiusM);
        const at = r * (HALF_AZIMUTHS + 1) + a;
        if (this.polar) [north[at], east[at], up[at]] = frame.of(there.lat2 as number, there.lon2 as number);
        else [north[at], east[at]] = [(there.lat2 as number) - latitudeDeg, there.lon2 as number];
      }
    }
    this.#north = waves(north, Math.cos);
    this.#east = waves(east, Math.sin);
    this.#up = this.polar ? waves(up, Math.cos) : null;
  }

  /** The ray along an azimuth [deg]; the next call takes it away again. */
  ray(azimuthDeg: number): GeodesicRay {
    const polynomial = this.#polynomial;
    const cos = this.#cos;
    const sin = this.#sin;
    const cos1 = Math.cos(azimuthDeg * RADIANS_PER_DEGREE);
    const sin1 = Math.sin(azimuthDeg * RADIANS_PER_DEGREE);
    cos[0] = 1;
    sin[0] = 0;
    let cosM = 1;
    let sinM = 0;
    for (let m = 1; m <= DEGREE; m++) {
      const turned = cosM * cos1 - sinM * sin1;
      sinM = sinM * cos1 + cosM * sin1;
      cosM = turned;
      cos[m] = cosM;
      sin[m] = sinM;
    }
    sumWaves(this.#north, cos, polynomial.north);
    sumWaves(this.#east, sin, polynomial.east);
    if (this.#up !== null) sumWaves(this.#up, cos, (polynomial as PolarRay).up);
    return polynomial;
  }
}

/** Coefficients by power of distance along one azimuth, from those of the waves and the waves there. */
function sumWaves(coefficients: Float64Array, waves: Float64Array, sums: Float64Array): void {
  let at = 0;
  for (let k = 0; k <= DEGREE; k++) {
    let sum = 0;
    for (let m = k & 1; m <= k; m += 2) {
      sum += (coefficients[at] as number) * (waves[m] as number);
      at++;
    }
    sums[k] = sum;
  }
}

/** Where the coefficient of a wave and a power, of which the wave is no higher and as even or odd, lies among all of them. */
const placeOf = (wave: number, power: number): number =>
  Math.floor((power + 1) / 2) * (Math.floor(power / 2) + 1) + (wave >> 1);

/** Offsets in degrees as polynomials. */
class PolynomialRay implements GeodesicRay {
  eastDeg = 0;
  northDeg = 0;
  axisM = Number.POSITIVE_INFINITY;
  /** Coefficients by power of the distance over the radius. */
  readonly north = new Float64Array(DEGREE + 1);
  readonly east = new Float64Array(DEGREE + 1);
  readonly scale: number;

  constructor(radiusM: number) {
    this.scale = 1 / radiusM;
  }

  moveTo(distanceM: number): void {
    const x = distanceM * this.scale;
    this.northDeg = polynomialAt(this.north, x);
    this.eastDeg = polynomialAt(this.east, x);
  }
}

/** The value of a polynomial without a constant term: its even and odd powers side by side, so that one does not wait for the other. */
function polynomialAt(coefficients: Float64Array, x: number): number {
  const x2 = x * x;
  let even = coefficients[DEGREE] as number;
  let odd = coefficients[DEGREE - 1] as number;
  for (let k = DEGREE - 2; k > 0; k -= 2) {
    even = even * x2 + (coefficients[k] as number);
    odd = odd * x2 + (coefficients[k - 1] as number);
  }
  return (even * x + odd) * x;
}

/** Metres north, east and up of the viewpoint as polynomials. */
class PolarRay extends PolynomialRay {
  readonly up = new Float64Array(DEGREE + 1);
  readonly #latitudeDeg: number;
  readonly #frame: LocalFrame;

  constructor(radiusM: number, latitudeDeg: number) {
    super(radiusM);
    this.#latitudeDeg = latitudeDeg;
    this.#frame = new LocalFrame(latitudeDeg);
  }

  override moveTo(distanceM: number): void {
    super.moveTo(distanceM);
    const x = distanceM * this.scale;
    const up = polynomialAt(this.up, x);
    const { sin, cos, axisM, heightM } = this.#frame;
    const outward = axisM - sin * this.northDeg + cos * up;
    const height = heightM + cos * this.northDeg + sin * up;
    this.axisM = Math.sqrt(outward * outward + this.eastDeg * this.eastDeg);
    this.eastDeg = Math.atan2(this.eastDeg, outward) / RADIANS_PER_DEGREE;
    // a point on the ellipsoid: tan φ = Z/(1 − e²)p
    const latitude = Math.atan2(height, (1 - ECCENTRICITY_SQUARED) * this.axisM) / RADIANS_PER_DEGREE;
    this.northDeg = latitude - this.#latitudeDeg;
  }
}

/** North, east and up at a place on the ellipsoid at longitude 0. */
class LocalFrame {
  readonly sin: number;
  readonly cos: number;
  /** Distance of the place from the Earth's axis, and along it from the Equator [m]. */
  readonly axisM: number;
  readonly heightM: number;

  constructor(latitudeDeg: number) {
    this.sin = Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
    this.cos = Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
    const normal = EQUATOR_M / Math.sqrt(1 - ECCENTRICITY_SQUARED * this.sin * this.sin);
    this.axisM = normal * this.cos;
    this.heightM = normal * (1 - ECCENTRICITY_SQUARED) * this.sin;
  }

  /** Another place on the ellipsoid, in metres north, east and up. */
  of(latitudeDeg: number, longitudeDeg: number): [number, number, number] {
    const there = new LocalFrame(latitudeDeg);
    const outward = there.axisM * Math.cos(longitudeDeg * RADIANS_PER_DEGREE) - this.axisM;
    const height = there.heightM - this.heightM;
    return [
      this.cos * height - this.sin * outward,
      there.axisM * Math.sin(longitudeDeg * RADIANS_PER_DEGREE),
      this.cos * outward + this.sin * height,
    ];
  }
}

/** Radii of the rings as fractions of the largest: the positive zeros of a Chebyshev polynomial, so that errors spread evenly. */
function ringRadii(): number[] {
  return Array.from({ length: RINGS }, (_, i) => Math.cos(((2 * i + 1) * Math.PI) / (4 * RINGS)));
}

/** The waves of azimuth on each ring, and for each wave the powers of distance that it holds. */
function waves(values: Float64Array, wave: (angle: number) => number): Float64Array {
  const coefficients = new Float64Array(placeOf(DEGREE, DEGREE) + 1);
  const rings = ringRadii();
  for (let m = 0; m <= DEGREE; m++) {
    const powers: number[] = [];
    for (let k = m === 0 ? 2 : m; k <= DEGREE && powers.length < RINGS; k += 2) powers.push(k);
    // the outermost rings, as many as there are powers
    const system = powers.map((_, row) => {
      const radius = rings[row] as number;
      let sum = 0;
      for (let a = 0; a <= HALF_AZIMUTHS; a++) {
        const weight = a === 0 || a === HALF_AZIMUTHS ? 1 : 2;
        const value = values[row * (HALF_AZIMUTHS + 1) + a] as number;
        sum += weight * value * wave((m * Math.PI * a) / HALF_AZIMUTHS);
      }
      const amplitude = sum / (m === 0 ? 2 * HALF_AZIMUTHS : HALF_AZIMUTHS);
      return [...powers.map((k) => radius ** k), amplitude];
    });
    solveInPlace(system).forEach((coefficient, i) => {
      coefficients[placeOf(m, powers[i] as number)] = coefficient;
    });
  }
  return coefficients;
}

/** Gaussian elimination with pivoting of a small system, each row ending in its right-hand side. */
function solveInPlace(rows: number[][]): number[] {
  const size = rows.length;
  for (let p = 0; p < size; p++) {
    let best = p;
    for (let r = p + 1; r < size; r++) {
      if (Math.abs(rows[r]?.[p] as number) > Math.abs(rows[best]?.[p] as number)) best = r;
    }
    [rows[p], rows[best]] = [rows[best] as number[], rows[p] as number[]];
    const pivot = rows[p] as number[];
    for (let r = 0; r < size; r++) {
      const row = rows[r] as number[];
      if (r === p) continue;
      const factor = (row[p] as number) / (pivot[p] as number);
      for (let c = p; c <= size; c++) row[c] = (row[c] as number) - factor * (pivot[c] as number);
    }
  }
  return rows.map((row, i) => (row[size] as number) / (row[i] as number));
}
