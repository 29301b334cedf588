import type { AddressInfo } from "node:net";
import { type ServerType, serve } from "@hono/node-server";
import type { TestApp } from "../api/harness";

export interface RunningServer {
  readonly baseUrl: string;
  close(): Promise<void>;
}

/** The app behind a real socket of this machine. */
export async function startServer(app: TestApp): Promise<RunningServer> {
  const server = await new Promise<ServerType>((resolve) => {
    const started: ServerType = serve({ fetch: app.fetch, port: 0, hostname: "127.0.0.1" }, () => resolve(started));
  });
  const { port } = server.address() as AddressInfo;
  return {
    baseUrl: `http://127.0.0.1:${port}`,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
