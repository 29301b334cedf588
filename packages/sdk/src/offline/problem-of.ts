import type { DomainError } from "@fieldstop/core/domain-error";
import { REFUSALS, Refusal, refusalFromDomain } from "@fieldstop/operations/problems";
import type { Problem } from "../generated/types.gen.js";
import type { RequestPart } from "./request-part.js";

/** The problem that the service would have told for what was thrown; undefined for a fault, which is none. Loaded when something is refused. */
export function problemOf(error: unknown, instance: string, requestPart: RequestPart): Problem | undefined {
  const refusal = isDomainError(error) ? refusalFromDomain(error, requestPart) : error;
  if (!(refusal instanceof Refusal)) return undefined;
  const { key, detail, errors } = refusal;
  const { title, status } = REFUSALS[key];
  return {
    type: `/problems/${key}`,
    title,
    status,
    detail,
    instance,
    ...(errors === undefined ? {} : { errors: [...errors] }),
  };
}

/** Told by its name, so that this part shares no code with what a page loads first, and bundlers need not split that for it. */
function isDomainError(error: unknown): error is DomainError {
  return error instanceof RangeError && error.name === "DomainError";
}
