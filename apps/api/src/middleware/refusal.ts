import type { ProblemKey } from "../problems/catalogue";
import { type ProblemDetails, problemAnswer } from "../problems/problem";
import type { Answer, Exchange } from "./exchange";
import { cacheControl } from "./lifetime";

/** A problem that the policies themselves answer with: true for the moment. */
export function refusal(exchange: Exchange, key: ProblemKey, details: ProblemDetails): Answer {
  const answer = problemAnswer(exchange, key, details);
  return {
    ...answer,
    fields: Object.assign({}, answer.fields, { "cache-control": cacheControl("momentary", true, 0) }),
  };
}

/** For who is to ask again in a moment. */
export const COME_BACK = { "retry-after": "1" };
