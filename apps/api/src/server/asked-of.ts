import type { IncomingMessage, ServerResponse } from "node:http";
import type { Asked } from "../middleware/asked";

/** What the policies look at, without a web Request. */
export function askedOf({ method = "GET", headers }: IncomingMessage): Asked {
  return { method, headers: { get: (name) => (headers[name] as string | undefined) ?? null } };
}

/** The same of a request whose answer is worked on, with the signal that its caller has hung up. */
export class AskedWithSignal implements Asked {
  readonly method: string;
  readonly headers: Asked["headers"];
  readonly #outgoing: ServerResponse;

  constructor(incoming: IncomingMessage, outgoing: ServerResponse) {
    const { method, headers } = askedOf(incoming);
    this.method = method;
    this.headers = headers;
    this.#outgoing = outgoing;
  }

  /** Made when it is asked for, since few ever do. */
  get signal(): AbortSignal {
    const hungUp = new AbortController();
    const outgoing = this.#outgoing;
    if (outgoing.destroyed) hungUp.abort();
    else {
      outgoing.once("close", () => {
        if (!outgoing.writableFinished) hungUp.abort();
      });
    }
    return hungUp.signal;
  }
}
