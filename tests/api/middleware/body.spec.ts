import type { Server } from "node:http";
import { type AddressInfo, connect } from "node:net";
import { httpServer } from "@fieldstop/api/server/http-server";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const SOLVE = "/v1/exposures/solve";
const GOOD = JSON.stringify({ ev100: 12, aperture: 8, iso: 100 });

describe("a JSON body", () => {
  const app = testApp();
  const send = (body: BodyInit, headers: Record<string, string> = {}) =>
    app.request(SOLVE, {
      method: "POST",
      headers: { "Content-Type": "application/json", ...headers },
      body,
      duplex: "half",
    } as RequestInit);

  it("may hold 256 KiB, whether or not its length is announced", async () => {
    const padded = (bytes: number) => `${GOOD.slice(0, -1)}${" ".repeat(bytes - GOOD.length)}}`;
    expect((await send(padded(256 * 1024))).status).toBe(200);
    await problem(send(padded(256 * 1024 + 1)), 413);
    await problem(send(GOOD, { "Content-Length": String(256 * 1024 + 1) }), 413);
  });

  it("is read no further than that where it never ends", async () => {
    let sent = 0;
    const endless = new ReadableStream({
      pull(controller) {
        sent += 65_536;
        controller.enqueue(new Uint8Array(65_536).fill(32));
      },
    });
    await problem(send(endless), 413);
    expect(sent).toBeLessThan(1_000_000);
  });
});

describe("bodies that do not come", () => {
  let server: Server;
  let port: number;
  beforeAll(async () => {
    const app = testApp({}, { policies: { maxConcurrentRequests: 20 } });
    server = httpServer(app, { host: "127.0.0.1", maxConnectionsPerAddress: 150 });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    port = (server.address() as AddressInfo).port;
  });
  afterAll(() => {
    server.closeAllConnections();
    server.close();
  });

  const open = (text: string) => {
    const socket = connect(port, "127.0.0.1", () => socket.write(text));
    let received = "";
    const closed = new Promise<string>((resolve) => socket.on("close", () => resolve(received)));
    socket.on("data", (chunk) => {
      received += chunk.toString();
    });
    socket.on("error", () => {});
    return { socket, closed };
  };
  const slow = `POST ${SOLVE} HTTP/1.1\r\nHost: here\r\nContent-Type: application/json\r\nContent-Length: ${GOOD.length}\r\n\r\n{`;

  it("hold up nobody else, and are answered 408 in the end", { timeout: 40_000 }, async () => {
    const waiting = Array.from({ length: 100 }, () => open(slow));
    await new Promise((resolve) => setTimeout(resolve, 300));
    const sun = await fetch(`http://127.0.0.1:${port}/v1/sun?latitude=56.6&longitude=-9.4`);
    expect(sun.status).toBe(200);
    for (const text of await Promise.all(waiting.map(({ closed }) => closed))) {
      expect(text).toMatch(/^HTTP\/1\.1 408 /);
      expect(text).toContain("/problems/request-timeout");
    }
  });

  it("come from one address no more than it may connect", async () => {
    const many = Array.from({ length: 200 }, () => open("GET /healthz HTTP/1.1\r\nHost: here\r\n"));
    await new Promise((resolve) => setTimeout(resolve, 500));
    const connected = await new Promise<number>((resolve, reject) =>
      server.getConnections((error, count) => (error ? reject(error) : resolve(count))),
    );
    expect(connected).toBeLessThanOrEqual(150);
    for (const { socket } of many) socket.destroy();
    await expect.poll(() => fetch(`http://127.0.0.1:${port}/healthz`).then(({ status }) => status)).toBe(200);
  });

  it("with two Host fields are no request", async () => {
    const { closed } = open("GET /healthz HTTP/1.1\r\nHost: here\r\nHost: there\r\nConnection: close\r\n\r\n");
    expect(await closed).toMatch(/^HTTP\/1\.1 400 [\s\S]*malformed-request/);
  });
});
