import { DomainError } from "../domain-error";

/** Puts x, y and z of a smoothly moving point at an instant into `out`. */
export type PlaceAt = (instantMs: number, out: Float64Array) => void;

// A sextic neighbourhood: three nodes on either side of every instant
const NODES = 6;
const BEFORE = 2;

/** Coefficients of the powers of s in the Lagrange polynomials through s = −2 … 3, one row for each node, lowest power first. */
const BASIS = lagrangeBasis();

function lagrangeBasis(): Float64Array {
  const basis = new Float64Array(NODES * NODES);
  for (let node = 0; node < NODES; node++) {
    let polynomial = [1];
    for (let other = 0; other < NODES; other++) {
      if (other === node) continue;
      // times (s − other) / (node − other)
      const root = other - BEFORE;
      const scale = 1 / (node - other);
      const next = new Array<number>(polynomial.length + 1).fill(0);
      for (const [power, coefficient] of polynomial.entries()) {
        next[power + 1] = (next[power + 1] as number) + coefficient * scale;
        next[power] = (next[power] as number) - coefficient * root * scale;
      }
      polynomial = next;
    }
    basis.set(polynomial, node * NODES);
  }
  return basis;
}

// Samples and pieces that are kept: days in a row, and many places on one day, then take hardly any anew
const KEPT = 64;

/** The fitted polynomials of one moving point, each over a step from a whole number of steps since the Unix epoch. */
type Pieces = (piece: number) => Float64Array;

/**
 * A moving point from a few samples: `place` is called each `stepMs` over a span and a little beyond, and between samples a polynomial of
 * the fifth degree stands in for it. The error falls with the sixth power of the step. Samples are taken at whole steps since the Unix epoch, so
 * that an instant has the same answer in every span, and spans share them.
 * @returns the point over a span [Unix ms], which throws DomainError when asked for an instant more than a step outside it
 */
export function sampledPlace(place: PlaceAt, stepMs: number): (startMs: number, endMs: number) => PlaceAt {
  const pieces = keptPieces(place, stepMs);
  return (startMs, endMs) => {
    const first = Math.floor(startMs / stepMs);
    const last = Math.max(first, Math.ceil(endMs / stepMs) - 1);
    // the polynomial of the piece last asked for: timelines and searches stay in one piece for long
    let current = first;
    let coefficients = pieces(first);
    return (instantMs, out) => {
      if (!(instantMs >= startMs - stepMs && instantMs <= endMs + stepMs)) {
        const iso = (ms: number): string => new Date(ms).toISOString();
        throw new DomainError({
          param: "instantMs",
          given: instantMs,
          allowed: `within the span of the track, ${iso(startMs)} to ${iso(endMs)}`,
        });
      }
      const position = instantMs / stepMs;
      const piece = Math.min(last, Math.max(first, Math.floor(position)));
      if (piece !== current) {
        coefficients = pieces(piece);
        current = piece;
      }
      const s = position - piece;
      let x = coefficients[15] as number;
      let y = coefficients[16] as number;
      let z = coefficients[17] as number;
      for (let at = 12; at >= 0; at -= 3) {
        x = x * s + (coefficients[at] as number);
        y = y * s + (coefficients[at + 1] as number);
        z = z * s + (coefficients[at + 2] as number);
      }
      out[0] = x;
      out[1] = y;
      out[2] = z;
    };
  };
}

function keptPieces(place: PlaceAt, stepMs: number): Pieces {
  const sample = kept((node) => {
    const point = new Float64Array(3);
    place(node * stepMs, point);
    return point;
  });
  return kept((piece) => {
    const coefficients = new Float64Array(NODES * 3);
    for (let node = 0; node < NODES; node++) {
      const point = sample(piece + node - BEFORE);
      for (let power = 0; power < NODES; power++) {
        const weight = BASIS[node * NODES + power] as number;
        for (let axis = 0; axis < 3; axis++) {
          const at = power * 3 + axis;
          coefficients[at] = (coefficients[at] as number) + weight * (point[axis] as number);
        }
      }
    }
    return coefficients;
  });
}

/** Keeps what was made for the whole numbers last asked for, one in each of a few places. */
function kept(make: (index: number) => Float64Array): (index: number) => Float64Array {
  const indexes = new Float64Array(KEPT).fill(Number.NaN);
  const values: Float64Array[] = [];
  return (index) => {
    const at = ((index % KEPT) + KEPT) % KEPT;
    if (indexes[at] !== index) {
      values[at] = make(index);
      indexes[at] = index;
    }
    return values[at] as Float64Array;
  };
}
