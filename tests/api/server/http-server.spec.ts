import { once } from "node:events";
import type { Server } from "node:http";
import { type AddressInfo, connect } from "node:net";
import { httpServer } from "@fieldstop/api/server/http-server";
import { prometheusMetrics } from "@fieldstop/api/server/metrics";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../harness";

describe("a reader that takes nothing", () => {
  const metrics = prometheusMetrics({ waiting: () => 0 });
  let server: Server;
  beforeAll(async () => {
    const app = testApp({}, { policies: { metrics } });
    server = httpServer(app, { host: "127.0.0.1", maxConnectionsPerAddress: 10, maxStallMs: 400 });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  });
  afterAll(() => {
    server.closeAllConnections();
    server.close();
  });
  const inFlight = async () => /^fieldstop_requests_in_flight (\d+)$/m.exec((await metrics.text()).body)?.[1];

  it("is cut off, and its stream counts no longer", { timeout: 60_000 }, async () => {
    const places = Array.from({ length: 1000 }, (_, i) => ({ place: { latitude: 40 + i / 100, longitude: 0 } }));
    const body = JSON.stringify({ places });
    const socket = connect((server.address() as AddressInfo).port, "127.0.0.1");
    await once(socket, "connect");
    socket.pause();
    socket.on("error", () => {});
    socket.write(
      `POST /v1/forecasts HTTP/1.1\r\nHost: here\r\nContent-Type: application/json\r\nContent-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`,
    );
    await expect.poll(inFlight, { timeout: 10_000 }).toBe("1");
    // what the kernel takes in is made first
    await expect.poll(inFlight, { timeout: 40_000, interval: 100 }).toBe("0");
    socket.destroy();
  });
});
