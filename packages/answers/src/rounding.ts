/** The same shape, free to be written to, as a fresh copy is. */
export type Fresh<T> = T extends object ? { -readonly [Key in keyof T]: Fresh<T[Key]> } : T;

const USUAL_DECIMALS = 10;
/**
 * Decimal places by how a field's name ends, since the units stand there: far finer than the claimed accuracy, far
 * coarser than what the last bits of sines and logarithms, which differ between engines, can grow to.
 */
const DECIMALS: readonly (readonly [RegExp, number])[] = [
  [/(^minutes|Minutes)/, 4],
  [/[a-z]Deg$/, 7],
  [/[a-z]M$/, 3],
  [/[a-z]Km$/, 6],
];

/**
 * A copy with every number at ten decimal places at most, fewer for angles, lengths and minutes, so that replicas and
 * runtimes whose last bits differ answer byte for byte the same. A number that is not finite is a fault of ours and
 * throws, rather than leave as null.
 */
export function rounded<T>(value: T): Fresh<T> {
  return copy(value, 10 ** USUAL_DECIMALS) as Fresh<T>;
}

const scales = new Map<string, number>();

/** Ten to the power of a field's decimal places. Kept: there are few names, and very many numbers. */
function scaleOf(field: string): number {
  let scale = scales.get(field);
  if (scale === undefined) {
    scale = 10 ** (DECIMALS.find(([ending]) => ending.test(field))?.[1] ?? USUAL_DECIMALS);
    scales.set(field, scale);
  }
  return scale;
}

function copy(value: unknown, scale: number): unknown {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new Error(`a number that is not finite reached the answer: ${value}`);
    const scaled = value * scale;
    return Math.abs(scaled) < Number.MAX_SAFE_INTEGER ? Math.round(scaled) / scale : value;
  }
  if (Array.isArray(value)) return value.map((inner) => copy(inner, scale));
  if (value !== null && typeof value === "object") {
    const result: Record<string, unknown> = {};
    for (const [key, inner] of Object.entries(value)) if (inner !== undefined) result[key] = copy(inner, scaleOf(key));
    return result;
  }
  return value;
}
