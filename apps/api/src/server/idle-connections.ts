import { createServer, type RequestListener, type Server, type ServerResponse } from "node:http";
import type { Socket } from "node:net";

/** How long a connection may be idle between two requests [ms]: longer than load balancers keep theirs, so that none is closed just as it is used again. */
const IDLE_MS = 65_000;

const UNDER_WAY = Symbol("requests under way");

type Connection = Socket & { [UNDER_WAY]?: number };

/**
 * A server that closes connections which have been idle for too long, by a timer for each connection. The platform's own way makes one after each answer,
 * which lives until the next request on that connection, and so for longer than what is young: of a thousand callers these are most of what one scavenge
 * after another finds alive.
 */
export function serverClosingIdle(onRequest: RequestListener, idleMs = IDLE_MS): Server {
  const server = createServer((incoming, outgoing) => {
    const socket: Connection = incoming.socket;
    const underWay = socket[UNDER_WAY];
    // one that was never asked on is for the limits on how long a request may take to come
    if (underWay === undefined) socket.setTimeout(idleMs);
    socket[UNDER_WAY] = (underWay ?? 0) + 1;
    outgoing.on("finish", countAnswered);
    onRequest(incoming, outgoing);
  });
  server.keepAliveTimeout = 0;
  server.on("timeout", (socket: Connection) => {
    if (socket[UNDER_WAY] === 0) socket.destroy();
  });
  return server;
}

/** One function for all, since one for each answer would be more to clear away. */
function countAnswered(this: ServerResponse): void {
  const socket: Connection = this.req.socket;
  socket[UNDER_WAY] = (socket[UNDER_WAY] as number) - 1;
}
