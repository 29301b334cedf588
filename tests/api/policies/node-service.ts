import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import type { PolicySettings } from "@fieldstop/api/middleware/policy-settings";
import { directFirst } from "@fieldstop/api/server/direct";
import { getRequestListener } from "@hono/node-server";
import { testApp } from "../harness";

export interface NodeService {
  readonly port: number;
  readonly server: Server;
  /** How many requests came to the router. */
  readonly passedOn: () => number;
}

/** The service over HTTP, with the door past router and web or without. */
export async function nodeService(policies: PolicySettings, door: boolean): Promise<NodeService> {
  const app = testApp({}, { policies });
  let passedOn = 0;
  const listener = getRequestListener(app.fetch);
  const rest: typeof listener = (incoming, outgoing) => {
    passedOn++;
    return listener(incoming, outgoing);
  };
  const server = createServer(door ? directFirst(app, rest) : rest);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return { port: (server.address() as AddressInfo).port, server, passedOn: () => passedOn };
}
