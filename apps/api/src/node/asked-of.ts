import type { IncomingMessage } from "node:http";
import type { Asked } from "../policies/asked";

/** What the policies look at, without a web Request. */
export function askedOf({ method = "GET", headers }: IncomingMessage): Asked {
  return { method, headers: { get: (name) => (headers[name] as string | undefined) ?? null } };
}
