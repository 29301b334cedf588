import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { Socket } from "node:net";
import { getRequestListener } from "@hono/node-server";
import type { FieldstopApp } from "../app";
import { SECURITY_HEADERS } from "../middleware/security-headers";
import { problemBody } from "../problems/problem";

export interface HttpServerSettings {
  /** For requests of HTTP/1.0 that name no host. */
  readonly host: string;
  /** Most connections of one address; behind proxies, which connect for all callers, no bound. */
  readonly maxConnectionsPerAddress: number;
  /** A caller that takes nothing of what was written is cut off after once to twice this [ms]; default 15,000. */
  readonly maxStallMs?: number;
}

const TIMEOUTS = {
  /** Longest for the fields of a request [ms]. */
  headersTimeout: 10_000,
  /** Longest for a whole request; JSON bodies and forms have shorter times of their own [ms]. */
  requestTimeout: 600_000,
  connectionsCheckingInterval: 5_000,
  /** Longer than load balancers keep idle connections, so that none is closed just as it is used again [ms]. */
  keepAliveTimeout: 65_000,
};
/** The platform looks twice where a write is on its way. */
const MAX_STALL_MS = 15_000;

/** The HTTP server around the app: Node's own, with its time-outs and limits set. */
export function httpServer(
  app: FieldstopApp,
  { host, maxConnectionsPerAddress, maxStallMs = MAX_STALL_MS }: HttpServerSettings,
): Server {
  const listener = getRequestListener(app.fetch, {
    hostname: host,
    // what is no request for the app: a host or a target that makes no URL
    errorHandler: () => badRequest(),
  });
  const server = createServer(TIMEOUTS, (incoming, outgoing) => {
    outgoing.on("timeout", cutStalledReader);
    if (hostFields(incoming) > 1) refuse(outgoing);
    else void listener(incoming, outgoing);
  });
  server.timeout = maxStallMs;
  limitConnections(server, maxConnectionsPerAddress);
  return server;
}

/** End a connection that took nothing for a while; one whose answer is still being made may go on. */
function cutStalledReader(socket: Socket): void {
  if (socket.writableLength > 0) socket.destroy();
}

/** Proxies and caches that read another one of two Host fields than we do would disagree with us about the request (RFC 9112, 3.2). */
function hostFields({ rawHeaders }: IncomingMessage): number {
  let count = 0;
  for (let i = 0; i < rawHeaders.length; i += 2) {
    const name = rawHeaders[i] as string;
    if (name.length === 4 && name.toLowerCase() === "host") count++;
  }
  return count;
}

const BAD_REQUEST = JSON.stringify(
  problemBody({ path: "/", requestId: "" }, "malformed-request", {
    detail: "The request's host or target is not valid.",
  }),
);
const BAD_REQUEST_HEADERS = {
  ...SECURITY_HEADERS,
  "content-type": "application/problem+json",
  "cache-control": "no-store",
};

function badRequest(): Response {
  return new Response(BAD_REQUEST, { status: 400, headers: BAD_REQUEST_HEADERS });
}

function refuse(outgoing: ServerResponse): void {
  outgoing.writeHead(400, { ...BAD_REQUEST_HEADERS, connection: "close" }).end(BAD_REQUEST);
}

function limitConnections(server: Server, max: number): void {
  const open = new Map<string, number>();
  server.on("connection", (socket) => {
    const address = socket.remoteAddress ?? "";
    const count = (open.get(address) ?? 0) + 1;
    if (count > max) {
      socket.destroy();
      return;
    }
    open.set(address, count);
    socket.once("close", () => {
      const left = (open.get(address) ?? 1) - 1;
      if (left === 0) open.delete(address);
      else open.set(address, left);
    });
  });
}
