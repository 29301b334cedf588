import type { AnswerContext } from "../operations/operation-context";
import type { Answer } from "./exchange";
import { type AnsweredDay, dayOf, lacksUnreadGround } from "./lifetime";

type Fields = Readonly<Record<string, string>>;

/** What an answer's lifetime depends on beside its operation. */
export interface Holding {
  readonly passing?: boolean;
  readonly day?: AnsweredDay | undefined;
}

/** What that is of an answer, whatever it is written as. */
export function holdingOf(answer: unknown) {
  return { passing: lacksUnreadGround(answer), day: dayOf(answer) };
}

/** Answers with text of a type. The response that the router gets is empty: the text goes beside it, to be sent with all fields at once. */
export function answerText(
  c: Pick<AnswerContext, "env">,
  body: string,
  fields: Fields,
  holding: Holding = {},
): Response {
  return c.env.exchange.handOver({ body, status: 200, fields: inLowerCase(fields), ...holding });
}

/** The answer that `c.json` of an operation's context hands over. */
export function jsonAnswerOf(value: unknown, status = 200, fields?: Fields): Answer {
  const { passing, day } = holdingOf(value);
  const named = fields === undefined ? JSON_FIELDS : Object.assign({}, JSON_FIELDS, inLowerCase(fields));
  return { body: JSON.stringify(value), status, fields: named, passing, day };
}

const JSON_FIELDS = { "content-type": "application/json" };

function inLowerCase(fields: Fields): Fields {
  return Object.fromEntries(Object.entries(fields).map(([name, value]) => [name.toLowerCase(), value]));
}
