import type { IncomingMessage, RequestListener, ServerResponse } from "node:http";
import type { FieldstopApp } from "../app";
import { pathOf } from "../middleware/asked";
import type { JsonOperation } from "../middleware/json-operations";
import type { Exchanged } from "../middleware/policies";
import type { Soon } from "../middleware/soon";
import { AskedWithSignal, askedOf } from "./asked-of";
import { readBody } from "./read-body";
import { writeAnswer } from "./write-answer";

/** As the URL of a web Request takes it; others are the app's to refuse. */
const HOST = /^(?:[\w.-]+|\[[\da-f:.]+\])(?::\d{1,5})?$/i;

type Direct = Pick<FieldstopApp, "policies" | "onBodies">;

/**
 * Answers GETs that are kept and JSON bodies from Node's own request, without a web Request and Response and without the router, which cost more than
 * all policies and most operations do; everything else goes to the app. The policies are the same, so are the guards and the operations, and so is what
 * they answer.
 */
export function directFirst(app: Direct, rest: RequestListener): RequestListener {
  // most callers know the service by one name
  let usual = "";
  const isPlain = (host: string): boolean => {
    if (host === usual) return host !== "";
    if (!HOST.test(host)) return false;
    usual = host;
    return true;
  };
  return (incoming, outgoing) => {
    const failed = (error: unknown): void => {
      outgoing.destroy(error as Error);
    };
    const write = (exchanged: Exchanged): void => writeAnswer(outgoing, exchanged);
    const finish = (answered: Soon<Exchanged>): void => {
      if (answered instanceof Promise) answered.then(write).catch(failed);
      else write(answered);
    };
    try {
      if (!isPlain(incoming.headers.host ?? "")) return rest(incoming, outgoing);
      if (incoming.method === "POST") {
        const operation = operationOf(app, incoming);
        if (operation === undefined) return rest(incoming, outgoing);
        return finish(answerBody(app, operation, incoming, outgoing));
      }
      const kept = app.policies.answerKept(askedOf(incoming), incoming.url ?? "", { incoming, outgoing });
      if (kept === undefined) rest(incoming, outgoing);
      else finish(kept);
    } catch (error) {
      failed(error);
    }
  };
}

/** What answers a POST whose body announces its length, if that is an operation that answers in one piece. */
function operationOf(app: Direct, { url = "", headers, rawHeaders }: IncomingMessage): JsonOperation | undefined {
  const operation = app.onBodies.get(pathOf(url));
  if (operation?.whole !== true || headers["content-length"] === undefined) return undefined;
  // Node drops fields that come twice, the web joins them
  let count = 0;
  for (const _ in headers) count++;
  return 2 * count === rawHeaders.length ? operation : undefined;
}

function answerBody(
  app: Direct,
  operation: JsonOperation,
  incoming: IncomingMessage,
  outgoing: ServerResponse,
): Soon<Exchanged> {
  const asked = new AskedWithSignal(incoming, outgoing);
  return app.policies.exchange(asked, incoming.url ?? "", { incoming, outgoing }, (exchange) =>
    operation.answer(exchange, () => readBody(incoming)),
  );
}
