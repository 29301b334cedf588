import { type InputPart, Refusal, refusalFromDomain } from "@fieldstop/answers";
import { DomainError } from "@fieldstop/core";
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
  const { key, detail, errors } = refusal;
  return { key, details: { detail, ...(errors && { errors }) } };
}
