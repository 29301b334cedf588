import type { IncomingMessage, RequestListener, ServerResponse } from "node:http";
import type { Asked } from "../policies/asked";
import type { Exchanged, Policies } from "../policies/policies";
import { lastingFields } from "../policies/respond";

/** As the URL of a web Request takes it; others are the app's to refuse. */
const HOST = /^(?:[\w.-]+|\[[\da-f:.]+\])(?::\d{1,5})?$/i;

/**
 * Writes answers that are kept from their bytes, without a web Request and Response, which cost more than all policies together; everything else goes
 * to the app. The policies are the same, and so is what they answer.
 */
export function keptFirst(policies: Policies, app: RequestListener): RequestListener {
  return (incoming, outgoing) => {
    const { method, url = "", headers } = incoming;
    const kept =
      method === "GET" && HOST.test(headers.host ?? "")
        ? policies.answerKept(askedOf(incoming), url, { incoming, outgoing })
        : undefined;
    if (kept === undefined) return app(incoming, outgoing);
    kept.then(
      (exchanged) => write(outgoing, exchanged),
      (error: Error) => outgoing.destroy(error),
    );
  };
}

function askedOf({ method = "GET", headers }: IncomingMessage): Asked {
  return { method, headers: { get: (name) => (headers[name] as string | undefined) ?? null } };
}

/** Names and values of kept fields in turn, as they are written fastest; made once for each record. */
const pairsOfKept = new WeakMap<object, readonly string[]>();

function write(outgoing: ServerResponse, { exchange, answer }: Exchanged): void {
  const { status, body, fields } = answer;
  let pairs: readonly string[];
  if (answer.lasting === true) {
    pairs = pairsOfKept.get(fields) ?? pairsOf(fields);
    pairsOfKept.set(fields, pairs);
  } else pairs = pairsOf(lastingFields(exchange, fields));
  outgoing.writeHead(status, [...pairs, ...pairsOf(exchange.fields)]);
  outgoing.end(body);
}

function pairsOf(fields: Readonly<Record<string, string>>): string[] {
  return Object.entries(fields).flat();
}
