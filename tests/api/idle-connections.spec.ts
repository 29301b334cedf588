import { createHook } from "node:async_hooks";
import { once } from "node:events";
import type { RequestListener, Server } from "node:http";
import { type AddressInfo, connect, type Socket } from "node:net";
import { setTimeout as delay } from "node:timers/promises";
import { serverClosingIdle } from "@fieldstop/api/server/idle-connections";
import { afterEach, describe, expect, it } from "vitest";

const IDLE_MS = 300;
const ASKED = "GET / HTTP/1.1\r\nHost: here\r\n\r\n";

let server: Server;
let socket: Socket;
afterEach(() => {
  socket.destroy();
  server.close();
});

async function connected(listener: RequestListener): Promise<Socket> {
  server = serverClosingIdle(listener, IDLE_MS);
  await once(server.listen(0, "127.0.0.1"), "listening");
  socket = connect((server.address() as AddressInfo).port, "127.0.0.1");
  socket.resume();
  await once(socket, "connect");
  return socket;
}

const answered = async (): Promise<void> => {
  socket.write(ASKED);
  await once(socket, "data");
};

const isOpen = (): boolean => socket.readyState === "open";

describe("a connection", () => {
  it("is closed once nobody has asked on it for so long, and no sooner", { retry: 2 }, async () => {
    await connected((_, outgoing) => void outgoing.end("here"));
    for (let i = 0; i < 4; i++) {
      await answered();
      await delay(IDLE_MS / 2);
    }
    expect(isOpen()).toBe(true);
    const askedAt = performance.now();
    await answered();
    await once(socket, "close");
    const closedAfterMs = performance.now() - askedAt;
    expect(closedAfterMs).toBeGreaterThan(IDLE_MS - 20);
    expect(closedAfterMs).toBeLessThan(10 * IDLE_MS);
  });

  it("is kept while an answer is under way, however long it is silent, and closed after it", async () => {
    await connected((_, outgoing) => void delay(3 * IDLE_MS).then(() => outgoing.end("late")));
    await answered();
    expect(isOpen()).toBe(true);
    await once(socket, "close");
  });

  it("is kept while the second of two requests that came together is under way", async () => {
    let asked = 0;
    await connected((_, outgoing) => void delay(asked++ * 3 * IDLE_MS).then(() => outgoing.end(`${asked}`)));
    let received = "";
    socket.on("data", (chunk) => {
      received += chunk.toString();
    });
    socket.write(ASKED + ASKED);
    await once(socket, "close");
    expect(received.match(/HTTP\/1\.1 200/g)).toHaveLength(2);
  });

  it("takes no timer for each answer", async () => {
    await connected((_, outgoing) => void outgoing.end("here"));
    await answered();
    let timers = 0;
    const hook = createHook({ init: (_, type) => void (type === "Timeout" && timers++) }).enable();
    for (let i = 0; i < 20; i++) await answered();
    hook.disable();
    // the date that all answers of a second share has one
    expect(timers).toBeLessThan(5);
  });
});
