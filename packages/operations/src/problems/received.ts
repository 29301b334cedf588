const LONGEST_ECHO = 120;

/** What came, cut short enough to send back: scalars as they are, the rest by kind and size. */
export function echo(value: unknown): unknown {
  if (typeof value === "string") return value.length > LONGEST_ECHO ? `${value.slice(0, LONGEST_ECHO)}…` : value;
  if (typeof value === "number" && !Number.isFinite(value)) return String(value);
  if (value === null || typeof value === "number" || typeof value === "boolean") return value;
  if (Array.isArray(value)) return `an array of ${value.length}`;
  if (typeof value === "object") return "an object";
  return undefined;
}

/** The value at a path of keys in what was sent, or undefined. */
export function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = input;
  for (const key of path) {
    if (value === null || typeof value !== "object" || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}
