import { z } from "@hono/zod-openapi";

/** A decimal number in a query string: no hexadecimal, no NaN, no Infinity, no empty string read as zero. */
const DECIMAL = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$/;
/** More digits than any number needs. */
const LONGEST_DECIMAL = 64;

interface QueryNumberOptions {
  readonly min?: number;
  readonly max?: number;
  readonly description: string;
  readonly example?: number;
}

interface BodyNumberOptions extends QueryNumberOptions {
  /** More than this, where no least number is told. */
  readonly over?: number;
}

/** A number in the query, documented as the number that it is. */
export function queryNumber({ min, max, description, example }: QueryNumberOptions) {
  let range = z.number();
  if (min !== undefined) range = range.min(min);
  if (max !== undefined) range = range.max(max);
  return z
    .string()
    .refine((text) => text.length <= LONGEST_DECIMAL && DECIMAL.test(text), {
      message: "not a decimal number",
      abort: true,
      params: { allowed: `a decimal number${rangeText(min, max)}` },
    })
    .transform(Number)
    .pipe(range)
    .openapi({
      type: "number",
      description,
      ...(min === undefined ? {} : { minimum: min }),
      ...(max === undefined ? {} : { maximum: max }),
      ...(example === undefined ? {} : { example }),
    });
}

/** A number in a body, with its range and what it means. */
export function bodyNumber({ min, max, over, description, example }: BodyNumberOptions) {
  let range = z.number();
  if (over !== undefined) range = range.gt(over);
  if (min !== undefined) range = range.min(min);
  if (max !== undefined) range = range.max(max);
  return range.openapi({ description, ...(example === undefined ? {} : { example }) });
}

function rangeText(min: number | undefined, max: number | undefined): string {
  if (min === undefined) return max === undefined ? "" : `, at most ${max}`;
  return max === undefined ? `, at least ${min}` : ` from ${min} to ${max}`;
}
