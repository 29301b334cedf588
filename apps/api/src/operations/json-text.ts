import type { TypedResponse } from "hono";
import { answerText } from "../middleware/answer";
import { JSON_TYPE } from "../middleware/representations";
import type { AnswerContext } from "./operation-context";

/** An answer that is written out already, and what it is. */
export type JsonText<T> = string & { readonly __answer?: T };

/** Sends an answer that was written out before, so that one that is asked for often costs no more than a short one. */
export function answerJsonText<T>(
  c: Pick<AnswerContext, "env">,
  text: JsonText<T>,
  options: { readonly passing?: boolean } = {},
): Response & TypedResponse<T, 200, "json"> {
  return answerText(c, text, { "Content-Type": JSON_TYPE }, options) as unknown as Response &
    TypedResponse<T, 200, "json">;
}
