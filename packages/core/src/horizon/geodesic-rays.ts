import geodesic from "geographiclib-geodesic";
import { RADIANS_PER_DEGREE } from "../angles";

const WGS84 = geodesic.Geodesic.WGS84;

/** Degree of the polynomial in distance. */
const DEGREE = 8;
/** Rings of exact solves, and azimuths on half of each: the other half mirrors it. */
const RINGS = 4;
const HALF_AZIMUTHS = 10;

/** Up to this latitude the polynomial is used; nearer the poles the meridians converge too fast for it. */
const POLYNOMIAL_LATITUDE_DEG = 70;

/** The way along one azimuth: moves to a distance [m] and leaves the offsets from the viewpoint there [deg]. */
export interface GeodesicRay {
  moveTo(distanceM: number): void;
  eastDeg: number;
  northDeg: number;
}

/**
 * Geodesics of WGS 84 that leave one viewpoint, as offsets in longitude and latitude against distance.
 *
 * By symmetry the offset in latitude is even and that in longitude odd about the meridian, and the term in distance to the power k
 * holds waves of azimuth of k, k − 2, … turns only; so exact solves on four rings of ten azimuths give them all. Accuracy: 1 mm
 * out to 150 km up to 60° of latitude, 10 cm up to 70°; beyond 70° each position is solved exactly; held by
 * tests/core/horizon/geodesic-rays.spec.ts.
 */
export class GeodesicRays {
  readonly #latitudeDeg: number;
  readonly #longitudeDeg: number;
  readonly #radiusM: number;
  /** Coefficients [wave of azimuth][power of distance] of the offsets in latitude (cosines) and longitude (sines). */
  readonly #cosines: Float64Array | null = null;
  readonly #sines: Float64Array | null = null;
  readonly #polynomial: PolynomialRay;

  constructor(latitudeDeg: number, longitudeDeg: number, radiusM: number) {
    this.#latitudeDeg = latitudeDeg;
    this.#longitudeDeg = longitudeDeg;
    this.#radiusM = radiusM;
    this.#polynomial = new PolynomialRay(1 / radiusM);
    if (Math.abs(latitudeDeg) > POLYNOMIAL_LATITUDE_DEG) return;
    const north = new Float64Array(RINGS * (HALF_AZIMUTHS + 1));
    const east = new Float64Array(north.length);
    const rings = ringRadii();
    for (let a = 0; a <= HALF_AZIMUTHS; a++) {
      const line = WGS84.DirectLine(latitudeDeg, 0, (180 * a) / HALF_AZIMUTHS, radiusM);
      for (let r = 0; r < RINGS; r++) {
        const there = line.Position((rings[r] as number) * radiusM);
        north[r * (HALF_AZIMUTHS + 1) + a] = (there.lat2 as number) - latitudeDeg;
        east[r * (HALF_AZIMUTHS + 1) + a] = there.lon2 as number;
      }
    }
    this.#cosines = waves(north, Math.cos);
    this.#sines = waves(east, Math.sin);
  }

  /** The ray along an azimuth [deg]; the next call takes it away again. */
  ray(azimuthDeg: number): GeodesicRay {
    if (this.#cosines === null || this.#sines === null) return this.#exactRay(azimuthDeg);
    const polynomial = this.#polynomial;
    const north = polynomial.north.fill(0);
    const east = polynomial.east.fill(0);
    const cos1 = Math.cos(azimuthDeg * RADIANS_PER_DEGREE);
    const sin1 = Math.sin(azimuthDeg * RADIANS_PER_DEGREE);
    let cos = 1;
    let sin = 0;
    for (let m = 0; m <= DEGREE; m++) {
      for (let k = m; k <= DEGREE; k += 2) {
        const at = m * (DEGREE + 1) + k;
        north[k] = (north[k] as number) + (this.#cosines[at] as number) * cos;
        east[k] = (east[k] as number) + (this.#sines[at] as number) * sin;
      }
      const turned = cos * cos1 - sin * sin1;
      sin = sin * cos1 + cos * sin1;
      cos = turned;
    }
    return polynomial;
  }

  #exactRay(azimuthDeg: number): GeodesicRay {
    const line = WGS84.DirectLine(this.#latitudeDeg, this.#longitudeDeg, azimuthDeg, this.#radiusM);
    const latitudeDeg = this.#latitudeDeg;
    const longitudeDeg = this.#longitudeDeg;
    return {
      eastDeg: 0,
      northDeg: 0,
      moveTo(distanceM: number) {
        const there = line.Position(distanceM);
        const east = (there.lon2 as number) - longitudeDeg;
        this.eastDeg = east > 180 ? east - 360 : east < -180 ? east + 360 : east;
        this.northDeg = (there.lat2 as number) - latitudeDeg;
      },
    };
  }
}

class PolynomialRay implements GeodesicRay {
  eastDeg = 0;
  northDeg = 0;
  /** Coefficients of the offsets, by power of the distance over the radius. */
  readonly north = new Float64Array(DEGREE + 1);
  readonly east = new Float64Array(DEGREE + 1);
  readonly #scale: number;

  constructor(scale: number) {
    this.#scale = scale;
  }

  moveTo(distanceM: number): void {
    const x = distanceM * this.#scale;
    const along = this.north;
    const across = this.east;
    let north = along[DEGREE] as number;
    let east = across[DEGREE] as number;
    for (let k = DEGREE - 1; k >= 0; k--) {
      north = north * x + (along[k] as number);
      east = east * x + (across[k] as number);
    }
    this.northDeg = north;
    this.eastDeg = east;
  }
}

/** Radii of the rings as fractions of the largest: the positive zeros of a Chebyshev polynomial, so that errors spread evenly. */
function ringRadii(): number[] {
  return Array.from({ length: RINGS }, (_, i) => Math.cos(((2 * i + 1) * Math.PI) / (4 * RINGS)));
}

/** The waves of azimuth on each ring, and for each wave the powers of distance that it holds. */
function waves(values: Float64Array, wave: (angle: number) => number): Float64Array {
  const coefficients = new Float64Array((DEGREE + 1) * (DEGREE + 1));
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
      coefficients[m * (DEGREE + 1) + (powers[i] as number)] = coefficient;
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
