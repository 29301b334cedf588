/** The same shape, free to be written to, as a fresh copy is. */
export type Fresh<T> = T extends object ? { -readonly [Key in keyof T]: Fresh<T[Key]> } : T;

/** How a number is cut: to so many decimal places, or to so many digits where it may be of any size. */
type Cut = (value: number) => number;

const decimals = (places: number): Cut => {
  const scale = 10 ** places;
  return (value) => {
    const scaled = value * scale;
    return Math.abs(scaled) < Number.MAX_SAFE_INTEGER ? Math.round(scaled) / scale : value;
  };
};
/** Those that are exact in binary. */
const POWERS_OF_TEN = Array.from({ length: 23 }, (_, exponent) => 10 ** exponent);
/** So many digits, whatever the size; by whole numbers and powers of ten, which are exact and far cheaper than going by text. */
const digits =
  (count: number): Cut =>
  (value) => {
    if (value === 0) return 0;
    const after = count - 1 - Math.floor(Math.log10(Math.abs(value)));
    const scale = POWERS_OF_TEN[Math.abs(after)];
    if (scale === undefined) return Number(value.toPrecision(count));
    return after >= 0 ? Math.round(value * scale) / scale : Math.round(value / scale) * scale;
  };

const USUAL = decimals(10);
const MICROMETRES = decimals(6);
const MILLIMETRES = decimals(3);
/** Near things matter to the hair, far ones are known to the metre at best. */
const metres: Cut = (value) => (Math.abs(value) < 100 ? MICROMETRES(value) : MILLIMETRES(value));

/**
 * How numbers are cut by how a field's name ends, since the units stand there: far finer than the claimed accuracy, far
 * coarser than what the last bits of sines and logarithms, which differ between engines, can grow to.
 */
const CUTS: readonly (readonly [RegExp, Cut])[] = [
  [/(^minutes|Minutes)/, decimals(4)],
  [/[a-z]Deg$/, decimals(7)],
  [/[a-z]M$/, metres],
  [/[a-z]Km$/, decimals(6)],
  [/(^ev100|Ev100|Stops)$/, decimals(7)],
  [/(Lux|CdPerM2|^seconds|Seconds)$/, digits(8)],
];

/**
 * A copy with every number at ten decimal places at most, fewer where its field's unit says so, so that replicas and
 * runtimes whose last bits differ answer byte for byte the same. What a field without a unit of its own holds is cut as
 * the field around it. A number that is not finite is a fault of ours and throws, rather than leave as null.
 */
export function rounded<T>(value: T): Fresh<T> {
  return copy(value, USUAL) as Fresh<T>;
}

const cuts = new Map<string, Cut | null>();

/** The cut of a field, null where its name says no unit. Kept: there are few names, and very many numbers. */
function cutOf(field: string): Cut | null {
  let cut = cuts.get(field);
  if (cut === undefined) {
    cut = CUTS.find(([ending]) => ending.test(field))?.[1] ?? null;
    cuts.set(field, cut);
  }
  return cut;
}

function copy(value: unknown, cut: Cut): unknown {
  if (typeof value === "number") return cutNumber(value, cut);
  if (typeof value !== "object" || value === null) return value;
  return Array.isArray(value) ? copyArray(value, cut) : copyObject(value as Record<string, unknown>, cut);
}

/** Whole numbers of no more than eight digits, as most are, stand as they are whatever the cut. */
function cutNumber(value: number, cut: Cut): number {
  if ((value | 0) === value && value < 1e8 && value > -1e8) return value | 0;
  if (!Number.isFinite(value)) throw new Error(`a number that is not finite reached the answer: ${value}`);
  return cut(value);
}

function copyObject(value: Readonly<Record<string, unknown>>, cut: Cut): Record<string, unknown> {
  const result: Record<string, unknown> = {};
  // answers are plain: all that a loop finds is their own
  for (const key in value) {
    const inner = value[key];
    // text needs no cut, and is half of what there is
    if (typeof inner === "string") result[key] = inner;
    else if (inner !== undefined) result[key] = copy(inner, cutOf(key) ?? cut);
  }
  return result;
}

/**
 * By the engine's own loop: one of ours would meet lists of numbers and lists of all else, and once optimized turn each list of numbers that it reads, the
 * caller's own, into one of an object for each number, which takes three times the room and is moved and marked one by one.
 */
function copyArray(values: readonly unknown[], cut: Cut): unknown[] {
  return values.map((value) => copy(value, cut));
}
