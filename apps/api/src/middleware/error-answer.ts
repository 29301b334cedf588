import type { InputPart } from "@fieldstop/operations";
import { PROBLEM_TYPES, type ProblemKey } from "../problems/catalogue";
import { knownProblem } from "../problems/known-problem";
import { type ProblemDetails, problemBody } from "../problems/problem";
import type { Answer } from "./answer";
import type { RequestContext } from "./request-context";

/** For those who are to ask again in a moment. */
export const COME_BACK = { "retry-after": "1" };

/** Answer with an RFC 9457 problem. */
export function problemAnswer(context: RequestContext, key: ProblemKey, details: ProblemDetails): Answer<never> {
  const headers: Record<string, string> = { "content-type": "application/problem+json", "cache-control": "no-store" };
  for (const [name, value] of Object.entries(details.headers ?? {})) headers[name.toLowerCase()] = value;
  return { body: JSON.stringify(problemBody(context, key, details)), status: PROBLEM_TYPES[key].status, headers };
}

/** Where faults of the service are reported. */
export interface FaultSink {
  reportFault(error: unknown, requestId: string): void;
}

/** Answer a request whose handling threw: with the problem that it met, or, where that is unknown, with a fault of ours, which is reported. */
export function errorAnswer(context: RequestContext, sink: FaultSink, error: unknown): Answer<never> {
  const known = knownProblem(error, partOf(context));
  if (known !== undefined) return problemAnswer(context, known.key, known.details);
  // work that was given up since nobody waited for it is no fault
  if (context.isOver) return problemAnswer(context, "unavailable", { detail: "Nobody waits for the answer any more." });
  sink.reportFault(error, context.requestId);
  return problemAnswer(context, "internal", { detail: "The service met a fault of its own." });
}

function partOf({ method }: RequestContext): InputPart {
  return method === "POST" ? "json" : "query";
}
