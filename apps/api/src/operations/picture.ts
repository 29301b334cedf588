import { z } from "@hono/zod-openapi";
import { answerText, type Holding } from "../middleware/answer";
import { chosenType, SVG_TYPE } from "../middleware/representations";
import type { AnswerContext } from "./operation-context";

/** A picture as the answer of an operation of its own. Clients get it as a blob, ready for an object URL. */
export function pictureAnswer(description: string) {
  const schema = z.string().openapi({ format: "binary", description: "SVG, light or dark as the viewer prefers" });
  return { description, content: { [SVG_TYPE]: { schema } } } as const;
}

/** A picture that may load nothing and run nothing, wherever it is opened. */
export function answerPicture(c: Pick<AnswerContext, "env">, markup: string, holding: Holding = {}) {
  const policy = "default-src 'none'; style-src 'unsafe-inline'";
  return answerText(c, markup, { "Content-Type": SVG_TYPE, "Content-Security-Policy": policy }, holding);
}

export function wantsPicture(c: AnswerContext): boolean {
  return chosenType(c) === SVG_TYPE;
}

/**
 * A picture in place of the JSON that an operation is typed with, for callers whose `Accept` prefers it. It may be of today, whatever the query says.
 */
export function pictureInstead(c: Pick<AnswerContext, "env">, markup: string, holding: Holding = {}): never {
  return answerPicture(c, markup, { ...holding, passing: true }) as never;
}
