import type { ServerResponse } from "node:http";
import type { Answer, Exchange } from "../middleware/exchange";
import type { Exchanged } from "../middleware/policies";
import { lastingFields } from "../middleware/respond";

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

/** Writes an answer that is not streamed, fields and body in one piece where it is short. */
export function writeAnswer(outgoing: ServerResponse, { exchange, answer }: Exchanged): void {
  const { fields, body } = answer.lasting === true ? keptWritten(answer) : passingWritten(exchange, answer);
  const all = fields.slice();
  for (const name in exchange.fields) all.push(name, exchange.fields[name] as string);
  outgoing.writeHead(answer.status, all);
  outgoing.end(body, "latin1");
}

function keptWritten(answer: Answer): Written {
  let written = writtenOfKept.get(answer.fields);
  if (written === undefined) {
    written = { fields: Object.entries(answer.fields).flat(), body: inOnePiece(answer.body as Uint8Array | null) };
    writtenOfKept.set(answer.fields, written);
  }
  return written;
}

/** A character for each byte, whatever they mean. */
function inOnePiece(body: Uint8Array | null): Written["body"] {
  if (body === null || body.byteLength > LONGEST_IN_ONE_PIECE) return body;
  return Buffer.from(body.buffer, body.byteOffset, body.byteLength).toString("latin1");
}

function passingWritten(exchange: Exchange, { fields, body }: Answer): Written {
  const lasting = lastingPairs(fields, exchange);
  if (body === null) return { fields: lasting, body };
  const length = typeof body === "string" ? Buffer.byteLength(body) : (body as Uint8Array).byteLength;
  const written =
    typeof body === "string" ? (length === body.length ? body : Buffer.from(body)) : inOnePiece(body as Uint8Array);
  return { fields: [...lasting, "content-length", String(length)], body: written };
}

/** Of fields and what stands on an operation; few of either are made anew for each answer. */
const pairsOf = new WeakMap<Answer["fields"], WeakMap<Exchange["standing"], readonly string[]>>();

/** Names and values of what does not belong to one exchange alone. */
function lastingPairs(fields: Answer["fields"], exchange: Exchange): readonly string[] {
  let byStanding = pairsOf.get(fields);
  if (byStanding === undefined) {
    byStanding = new WeakMap();
    pairsOf.set(fields, byStanding);
  }
  let pairs = byStanding.get(exchange.standing);
  if (pairs === undefined) {
    pairs = Object.entries(lastingFields(exchange, fields)).flat();
    byStanding.set(exchange.standing, pairs);
  }
  return pairs;
}
