import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { Webhook } from "standardwebhooks";

/** What a receiver may do with a request. */
export type Manner =
  | "accept"
  | "fail"
  | "ask-to-wait"
  | "hang"
  | "hang-after-taking"
  | "drop"
  | "drop-after-taking"
  | "answer-twice";

export const MANNERS: readonly Manner[] = [
  "accept",
  "fail",
  "ask-to-wait",
  "hang",
  "hang-after-taking",
  "drop",
  "drop-after-taking",
  "answer-twice",
];

export const SECRET = `whsec_${Buffer.from("the ridge takes the sun at six.").toString("base64")}`;

export interface Received {
  readonly id: string;
  readonly headers: IncomingMessage["headers"];
  readonly body: string;
}

/**
 * A receiver that honours `webhook-id`: what it takes it takes once. `manner` says what it does with each request.
 * "taking" means that it has the message, though the sender may not be told so.
 */
export class Receiver {
  /** The first message of each id. */
  readonly taken = new Map<string, Received>();
  readonly done: Record<Manner, number> = Object.fromEntries(MANNERS.map((manner) => [manner, 0])) as never;
  requests = 0;
  /** Messages that came again after they had been taken. */
  repeated = 0;
  badSignatures = 0;
  readonly #server: Server;
  readonly #verifier = new Webhook(SECRET);

  private constructor(private readonly manner: (request: Received) => Manner) {
    this.#server = createServer((request, response) => void this.#handle(request, response));
    this.#server.keepAliveTimeout = 30_000;
  }

  static async start(manner: (request: Received) => Manner = () => "accept", port = 0): Promise<Receiver> {
    const receiver = new Receiver(manner);
    await new Promise<void>((resolve) => receiver.#server.listen(port, "127.0.0.1", resolve));
    return receiver;
  }

  get url(): string {
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}/night`;
  }

  async stop(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  async #handle(request: IncomingMessage, response: ServerResponse): Promise<void> {
    this.requests++;
    let body = "";
    try {
      for await (const chunk of request.setEncoding("utf8")) body += chunk;
    } catch {
      return; // the sender was killed while it sent
    }
    const received = { id: String(request.headers["webhook-id"]), headers: request.headers, body };
    const manner = this.manner(received);
    this.done[manner]++;
    if (!["fail", "ask-to-wait", "hang", "drop"].includes(manner)) this.#take(received);
    switch (manner) {
      case "accept":
        response.writeHead(204).end();
        break;
      case "fail":
        response.writeHead(500).end("no");
        break;
      case "ask-to-wait":
        response.writeHead(503, { "Retry-After": "1" }).end();
        break;
      case "drop":
      case "drop-after-taking":
        request.socket.destroy();
        break;
      case "answer-twice": {
        const answer = "HTTP/1.1 200 OK\r\nContent-Length: 2\r\n\r\nok";
        request.socket.write(answer + answer);
        break;
      }
      default: // hangs: the connection stays open and nothing is said
    }
  }

  #take(received: Received): void {
    if (received.headers["webhook-signature"] !== undefined && !this.#signed(received)) this.badSignatures++;
    if (this.taken.has(received.id)) this.repeated++;
    else this.taken.set(received.id, received);
  }

  #signed({ headers, body }: Received): boolean {
    try {
      this.#verifier.verify(body, headers as Record<string, string>);
      return true;
    } catch {
      return false;
    }
  }
}
