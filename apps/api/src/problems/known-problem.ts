import { DomainError } from "@fieldstop/core";
import { type InputPart, Refusal, refusalFromDomain } from "@fieldstop/operations";
import type { ProblemKey } from "./catalogue";
import { type ProblemDetails, ProblemError } from "./problem";

export interface KnownProblem {
  readonly key: ProblemKey;
  readonly details: ProblemDetails;
}

/** The problem behind what was thrown; undefined for a fault of ours. */
export function knownProblem(error: unknown, part: InputPart): KnownProblem | undefined {
  if (error instanceof ProblemError) return { key: error.key, details: error.details };
  const refusal = error instanceof DomainError ? refusalFromDomain(error, part) : error;
  if (!(refusal instanceof Refusal)) return undefined;
  const hint = part === "query" && refusal.errors?.some(({ received }) => lostItsPlus(received)) ? PLUS_IN_A_QUERY : "";
  const errors = refusal.errors?.map((one) => ({ ...one, detail: one.detail + hint }));
  return { key: refusal.key, details: { detail: refusal.detail + hint, ...(errors && { errors }) } };
}

// WHATWG URL, application/x-www-form-urlencoded parsing: a plus sign stands for a space
const PLUS_IN_A_QUERY = ". In a query a plus sign means a space: write it %2B.";

/** Whether an instant's offset came without its sign. */
function lostItsPlus(received: unknown): boolean {
  return typeof received === "string" && /T[\d:.]+ \d{2}:\d{2}$/i.test(received);
}
