/** The same shape, free to be written to, as a fresh copy is. */
export type Fresh<T> = T extends object ? { -readonly [Key in keyof T]: Fresh<T[Key]> } : T;

const SCALE = 1e10;

/**
 * A copy with every number at ten decimal places, so that replicas and runtimes whose last bits differ answer
 * byte for byte the same. A number that is not finite is a fault of ours and throws, rather than leave as null.
 */
export function rounded<T>(value: T): Fresh<T> {
  return copy(value) as Fresh<T>;
}

function copy(value: unknown): unknown {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new Error(`a number that is not finite reached the answer: ${value}`);
    const scaled = value * SCALE;
    return Math.abs(scaled) < Number.MAX_SAFE_INTEGER ? Math.round(scaled) / SCALE : value;
  }
  if (Array.isArray(value)) return value.map(copy);
  if (value !== null && typeof value === "object") {
    const result: Record<string, unknown> = {};
    for (const [key, inner] of Object.entries(value)) if (inner !== undefined) result[key] = copy(inner);
    return result;
  }
  return value;
}
