import type { Context } from "hono";
import type { AppEnv } from "../env";
import type { Exchange } from "../policies/exchange";
import { type AnsweredDay, dayOf, lacksUnreadGround } from "../policies/lifetime";

type Fields = Readonly<Record<string, string>>;

/** What an answer's lifetime depends on beside its operation. */
export interface Holding {
  readonly passing?: boolean;
  readonly day?: AnsweredDay | undefined;
}

/** What that is of an answer, whatever it is written as. */
export function holdingOf(answer: unknown): Holding {
  return { passing: lacksUnreadGround(answer), day: dayOf(answer) };
}

/** Answers with text of a type. The response that the router gets is empty: the text goes beside it, to be sent with all fields at once. */
export function answerText(c: Context<AppEnv>, body: string, fields: Fields, holding: Holding = {}): Response {
  return c.env.exchange.handOver({ body, status: 200, fields: inLowerCase(fields), ...holding });
}

/** `c.json` of an operation's context: the same for its handler, but handed over. */
export function answerJson(exchange: Exchange): Context["json"] {
  const json = (value: unknown, status = 200, fields?: Fields): Response =>
    exchange.handOver({
      body: JSON.stringify(value),
      status,
      fields: fields === undefined ? JSON_FIELDS : { ...JSON_FIELDS, ...inLowerCase(fields) },
      ...holdingOf(value),
    });
  return json as Context["json"];
}

const JSON_FIELDS = { "content-type": "application/json" };

function inLowerCase(fields: Fields): Fields {
  return Object.fromEntries(Object.entries(fields).map(([name, value]) => [name.toLowerCase(), value]));
}
