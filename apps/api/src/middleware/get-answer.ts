import { type Compress, chosenEncoding } from "./encoding";
import { matchesAny } from "./entity-tag";
import type { Answer, Exchange } from "./exchange";
import type { Form, KeptAnswer } from "./kept-answer";

/** What a GET is answered with: the form that the caller takes, or 304 where it has the answer already. */
export function getAnswer(
  { request }: Exchange,
  kept: KeptAnswer,
  compress: Compress | undefined,
): Answer | Promise<Answer> {
  const form = kept.form(chosenEncoding(request.headers.get("accept-encoding")), compress);
  const ifNoneMatch = request.headers.get("if-none-match");
  const unchanged = ifNoneMatch !== null && matchesAny(ifNoneMatch, kept.hash);
  return form instanceof Promise ? form.then((made) => answerIn(made, unchanged)) : answerIn(form, unchanged);
}

function answerIn({ body, fields, unchangedFields }: Form, unchanged: boolean): Answer {
  if (unchanged) return { status: 304, body: null, fields: unchangedFields, lasting: true };
  return { status: 200, body, fields, lasting: true };
}
