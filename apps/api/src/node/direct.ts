import type { IncomingMessage, RequestListener, ServerResponse } from "node:http";
import type { FieldstopApp } from "../app";
import { pathOf } from "../policies/asked";
import type { Exchanged } from "../policies/policies";
import type { Soon } from "../policies/soon";
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
    let answered: Soon<Exchanged> | undefined;
    try {
      answered = isPlain(incoming.headers.host ?? "") ? answerHere(app, incoming, outgoing) : undefined;
      if (answered !== undefined && !(answered instanceof Promise)) return write(answered);
    } catch (error) {
      return failed(error);
    }
    if (answered === undefined) return rest(incoming, outgoing);
    answered.then(write).catch(failed);
  };
}

function answerHere(app: Direct, incoming: IncomingMessage, outgoing: ServerResponse): Soon<Exchanged> | undefined {
  const { method, url = "" } = incoming;
  if (method === "GET") return app.policies.answerKept(askedOf(incoming), url, { incoming, outgoing });
  return method === "POST" ? answerBody(app, incoming, outgoing) : undefined;
}

/** A POST whose body announces its length to an operation that answers in one piece. */
function answerBody(app: Direct, incoming: IncomingMessage, outgoing: ServerResponse): Soon<Exchanged> | undefined {
  const { url = "", headers, rawHeaders } = incoming;
  const operation = app.onBodies.get(pathOf(url));
  if (operation?.whole !== true || headers["content-length"] === undefined) return undefined;
  // Node drops fields that come twice, the web joins them
  let count = 0;
  for (const _ in headers) count++;
  if (2 * count !== rawHeaders.length) return undefined;
  return app.policies.exchange(new AskedWithSignal(incoming, outgoing), url, { incoming, outgoing }, (exchange) =>
    operation.answer(exchange, () => readBody(incoming)),
  );
}
