import type { IncomingMessage } from "node:http";
import { cutShort } from "../middleware/json-body";
import type { Soon } from "../middleware/soon";

/**
 * A body whose length was announced and judged, as bytes: Node's parser takes no more than that. A short one comes with the fields of its request, and
 * is there when this is asked in a later phase of the event loop.
 * @throws ProblemError where it is cut short
 */
export function readBody(incoming: IncomingMessage): Soon<Uint8Array> {
  return (incoming.complete ? (incoming.read() as Buffer | null) : null) ?? gathered(incoming);
}

function gathered(incoming: IncomingMessage): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    incoming.on("data", (chunk: Buffer) => chunks.push(chunk));
    incoming.on("end", () => resolve(chunks.length === 1 ? (chunks[0] as Buffer) : Buffer.concat(chunks)));
    incoming.on("error", () => reject(cutShort()));
  });
}
