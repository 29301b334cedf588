import type { IncomingMessage } from "node:http";
import { cutShort } from "../http/json-body";

/**
 * A body whose length was announced and judged, as bytes: Node's parser takes no more than that.
 * @throws ProblemError where it is cut short
 */
export function readBody(incoming: IncomingMessage): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    incoming.on("data", (chunk: Buffer) => chunks.push(chunk));
    incoming.on("end", () => resolve(chunks.length === 1 ? (chunks[0] as Buffer) : Buffer.concat(chunks)));
    incoming.on("error", () => reject(cutShort()));
  });
}
