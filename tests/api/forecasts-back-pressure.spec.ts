import { connect, type Socket } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RunningServer, startServer } from "../sdk/server";
import { testApp } from "./harness";

// Over a real socket: what the kernel takes in is all that is worked out ahead of a reader who does not read.

const PLACES = 1000;
let asked = 0;
let server: RunningServer;
beforeAll(async () => {
  const app = testApp({
    timeZoneAt: () => {
      asked++;
      return "Etc/UTC";
    },
  });
  server = await startServer(app);
});
afterAll(() => server.close());

function openStream(): Promise<Socket> {
  const places = Array.from({ length: PLACES }, (_, i) => ({ place: { latitude: 40 + i / 100, longitude: 0 } }));
  const body = JSON.stringify({ places });
  const { port } = new URL(server.baseUrl);
  return new Promise((resolve) => {
    const socket = connect({ port: Number(port), host: "127.0.0.1" }, () => {
      socket.pause();
      socket.write(
        `POST /v1/forecasts HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`,
        () => resolve(socket),
      );
    });
  });
}

/** How many places were worked out once that number has stood still for a while. */
async function settled(): Promise<number> {
  for (let before = -1, still = 0; ; ) {
    await new Promise((resolve) => setTimeout(resolve, 100));
    still = asked === before && asked > 0 ? still + 1 : 0;
    before = asked;
    if (still >= 8) return asked;
  }
}

describe("a stream of forecasts", () => {
  it("waits for a reader who does not read, goes on with one who does, and ends when he hangs up", {
    timeout: 60_000,
  }, async () => {
    asked = 0;
    const socket = await openStream();
    const ahead = await settled();
    expect(ahead).toBeGreaterThan(1);
    expect(ahead).toBeLessThan(PLACES / 2);

    let bytes = 0;
    await new Promise<void>((resolve) => {
      socket.on("data", (chunk: Buffer) => {
        bytes += chunk.length;
        if (asked < ahead + 20) return;
        socket.pause();
        resolve();
      });
      socket.resume();
    });
    expect(bytes).toBeGreaterThan(20 * 1000);

    socket.destroy();
    const atEnd = await settled();
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(asked).toBe(atEnd);
    expect(asked).toBeLessThan(PLACES);
  });
});
