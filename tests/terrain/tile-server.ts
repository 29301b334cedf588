import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll } from "vitest";

/** What a path answers: bytes, or whatever the test wants done. */
export type Answer = Uint8Array | ((request: IncomingMessage, response: ServerResponse) => void);

/** A server of tiles on this machine, for the tests of a file. */
export class TileServer {
  readonly answers = new Map<string, Answer>();
  /** Paths asked for, in order. */
  readonly asked: string[] = [];
  url = "";

  constructor() {
    const server = createServer((request, response) => {
      const path = request.url ?? "";
      this.asked.push(path);
      const answer = this.answers.get(path);
      if (answer === undefined) response.writeHead(404).end("no such tile");
      else if (typeof answer === "function") answer(request, response);
      else send(answer, request, response);
    });
    beforeAll(async () => {
      await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
      this.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    });
    afterAll(() => {
      server.closeAllConnections();
      server.close();
    });
  }

  clear(): void {
    this.answers.clear();
    this.asked.length = 0;
  }
}

function send(bytes: Uint8Array, request: IncomingMessage, response: ServerResponse): void {
  const [, from, to] = /^bytes=(\d+)-(\d+)$/.exec(request.headers.range ?? "") ?? [];
  const headers = { "Content-Type": "application/octet-stream", ETag: `"${bytes.length}"` };
  if (from === undefined) {
    response.writeHead(200, { ...headers, "Content-Length": bytes.length }).end(bytes);
    return;
  }
  const last = Math.min(Number(to), bytes.length - 1);
  response
    .writeHead(206, { ...headers, "Content-Range": `bytes ${from}-${last}/${bytes.length}` })
    .end(bytes.subarray(Number(from), last + 1));
}

/** Ways in which a remote goes wrong, and what is said of them. */
export const badAnswers: readonly (readonly [what: string, answer: Answer, said: RegExp])[] = [
  ["403", (_request, response) => response.writeHead(403).end(), /answered 403/],
  ["500", (_request, response) => response.writeHead(500).end(), /answered 500/],
  ["429", (_request, response) => response.writeHead(429, { "Retry-After": "3600" }).end(), /answered 429/],
  [
    "a web page",
    (_request, response) => response.writeHead(200, { "Content-Type": "text/html" }).end("<h1>Sign in</h1>"),
    /text\/html in place of a tile/,
  ],
  [
    "half a body",
    (request, response) => {
      const range = request.headers.range === undefined ? {} : { "Content-Range": "bytes 0-99999/100000" };
      response.writeHead("Content-Range" in range ? 206 : 200, { "Content-Length": 100_000, ...range });
      response.write(new Uint8Array(50_000), () => response.destroy());
    },
    /broke off/,
  ],
  ["nothing at all", () => {}, /no whole answer within 2 s/],
  ["rubbish", new Uint8Array(1000), /1000 bytes|no elevation tile|does not open|parts of files/],
];
