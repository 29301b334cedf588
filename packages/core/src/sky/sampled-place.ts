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

/**
 * A moving point from a few samples: `place` is called each `stepMs` over the span and a little beyond, and between samples a polynomial of
 * the fifth degree stands in for it. The error falls with the sixth power of the step.
 * @throws DomainError, when asked for an instant more than a step outside the span
 */
export function sampledPlace(place: PlaceAt, startMs: number, endMs: number, stepMs: number): PlaceAt {
  const pieces = Math.max(1, Math.ceil((endMs - startMs) / stepMs));
  const samples = new Float64Array((pieces + NODES - 1) * 3);
  const point = new Float64Array(3);
  for (let i = 0; i < pieces + NODES - 1; i++) {
    place(startMs + (i - BEFORE) * stepMs, point);
    samples.set(point, i * 3);
  }
  // the polynomial of the piece last asked for: timelines and searches stay in one piece for long
  const coefficients = new Float64Array(NODES * 3);
  let current = -1;
  const fit = (piece: number): void => {
    coefficients.fill(0);
    for (let node = 0; node < NODES; node++) {
      for (let power = 0; power < NODES; power++) {
        const weight = BASIS[node * NODES + power] as number;
        for (let axis = 0; axis < 3; axis++) {
          const at = power * 3 + axis;
          coefficients[at] = (coefficients[at] as number) + weight * (samples[(piece + node) * 3 + axis] as number);
        }
      }
    }
    current = piece;
  };
  return (instantMs, out) => {
    const position = (instantMs - startMs) / stepMs;
    if (!(position >= -1 && position <= pieces + 1)) {
      const iso = (ms: number): string => new Date(ms).toISOString();
      throw new DomainError({
        param: "instantMs",
        given: instantMs,
        allowed: `within the span of the track, ${iso(startMs)} to ${iso(endMs)}`,
      });
    }
    const piece = Math.min(pieces - 1, Math.max(0, Math.floor(position)));
    if (piece !== current) fit(piece);
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
}
