import type { RequestListener, ServerResponse } from "node:http";
import type { Answer } from "../policies/exchange";
import type { Exchanged, Policies } from "../policies/policies";
import { lastingFields } from "../policies/respond";
import { askedOf } from "./asked-of";

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

/** Longest body that is written as a string, in one piece with the fields: two pieces cost the system more than the bytes do. */
const LONGEST_IN_ONE_PIECE = 16_384;

/** An answer as it is written fastest. */
interface Written {
  /** Names and values in turn. */
  readonly fields: readonly string[];
  readonly body: string | Uint8Array | null;
}

/** Made once for each kept form, which lasting fields belong to. */
const writtenOfKept = new WeakMap<Answer["fields"], Written>();

function writtenOf({ fields, body }: Answer): Written {
  const inOnePiece = body instanceof Uint8Array && body.byteLength <= LONGEST_IN_ONE_PIECE;
  return {
    fields: Object.entries(fields).flat(),
    // a character for each byte, whatever they mean
    body: inOnePiece
      ? Buffer.from(body.buffer, body.byteOffset, body.byteLength).toString("latin1")
      : (body as Written["body"]),
  };
}

function write(outgoing: ServerResponse, { exchange, answer }: Exchanged): void {
  let written: Written | undefined;
  if (answer.lasting === true) {
    written = writtenOfKept.get(answer.fields);
    if (written === undefined) {
      written = writtenOf(answer);
      writtenOfKept.set(answer.fields, written);
    }
  } else {
    const { body } = answer;
    const bytes = typeof body === "string" ? Buffer.from(body) : (body as Uint8Array<ArrayBuffer> | null);
    written = writtenOf({ ...answer, body: bytes, fields: lastingFields(exchange, answer.fields) });
  }
  const all = written.fields.slice();
  for (const name in exchange.fields) all.push(name, exchange.fields[name] as string);
  outgoing.writeHead(answer.status, all);
  outgoing.end(written.body, "latin1");
}
