/**
 * The error that core throws, and the checks that throw it.
 * @module
 */
/** Why an argument cannot be used: `out-of-range` is outside the documented domain, `impossible` is inside it but has no answer. */
export type DomainErrorCode = "out-of-range" | "impossible";

export interface DomainErrorDetails {
  readonly code?: DomainErrorCode;
  /** Path of the argument in the trade's words, dots between levels: `camera.aperture`. */
  readonly param: string;
  readonly given: unknown;
  /** What is allowed, as a phrase: `-90 to 90`, `ascending azimuths, at least two`. */
  readonly allowed: string;
  readonly unit?: string | undefined;
}

/**
 * The one error that core throws: data first, a sentence for people who read logs.
 * It is a `RangeError`, so callers who know nothing of Fieldstop can still tell it from a fault.
 */
export class DomainError extends RangeError implements DomainErrorDetails {
  override readonly name = "DomainError";
  readonly code: DomainErrorCode;
  readonly param: string;
  readonly given: unknown;
  readonly allowed: string;
  readonly unit: string | undefined;

  constructor(details: DomainErrorDetails) {
    const unit = details.unit === undefined ? "" : ` ${details.unit}`;
    const fault = details.given === undefined ? "missing" : `${describe(details.given)} is not allowed`;
    super(`${details.param}: ${fault}; allowed: ${details.allowed}${unit}`);
    this.code = details.code ?? "out-of-range";
    this.param = details.param;
    this.given = details.given;
    this.allowed = details.allowed;
    this.unit = details.unit;
  }

  /** The same refusal under another name, as where the argument is a member of something larger. */
  at(param: string): DomainError {
    return new DomainError({ ...this, param });
  }
}

const LONGEST_QUOTE = 120;

/** A value as a sentence can hold it: what is large is told by its kind and size. */
function describe(value: unknown): string {
  if (typeof value === "string") {
    return JSON.stringify(value.length > LONGEST_QUOTE ? `${value.slice(0, LONGEST_QUOTE)}…` : value);
  }
  if (Array.isArray(value)) return `an array of ${value.length}`;
  return typeof value === "object" && value !== null ? "an object" : String(value);
}

/** Run a calculation on one member of a request, so that what it refuses is named by its place in the whole. */
export function within<T>(member: string, calculate: () => T): T {
  try {
    return calculate();
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    throw error.at(`${member}.${error.param}`);
  }
}

/** Return `value` when it is a finite number in [min, max]; otherwise throw a {@link DomainError} that names it. */
export function requireInRange(param: string, value: number, min: number, max: number, unit?: string): number {
  if (value >= min && value <= max && Number.isFinite(value)) return value;
  const allowed = `a finite number${max === Number.POSITIVE_INFINITY ? `, ${min} or more` : ` from ${min} to ${max}`}`;
  throw new DomainError({ param, given: value, allowed, unit });
}

/** Returns `value` when it is finite and greater than zero; otherwise throws a {@link DomainError} that names it. */
export function requirePositive(param: string, value: number, unit?: string): number {
  if (value > 0 && Number.isFinite(value)) return value;
  throw new DomainError({ param, given: value, allowed: "a finite number greater than 0", unit });
}
