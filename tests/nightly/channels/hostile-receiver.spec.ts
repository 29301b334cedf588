import { createServer, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { webhookChannel } from "@fieldstop/nightly/channels/webhook";
import { afterEach, describe, expect, it } from "vitest";
import { ready } from "../support/ready";
import { SECRET } from "../support/receiver";

const never = new AbortController().signal;
const stops: (() => void)[] = [];
afterEach(() => {
  for (const stop of stops.splice(0)) stop();
});

/** A receiver that answers as a test has it, and counts the paths that it was asked for. */
async function receiver(answer: (response: ServerResponse) => void) {
  const paths: (string | undefined)[] = [];
  const server = createServer((request, response) => {
    paths.push(request.url);
    request.resume();
    response.on("error", () => {});
    answer(response);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  stops.push(() => {
    server.closeAllConnections();
    server.close();
  });
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/night`;
  const channel = webhookChannel({ url, secrets: [SECRET], timeoutMs: 1000, full: false });
  return { deliver: async () => channel.deliver(await ready(), never), paths, url };
}

describe("a receiver that means ill", () => {
  it("is left as soon as it has said yes, however long it goes on", async () => {
    let written = 0;
    const { deliver } = await receiver((response) => {
      response.writeHead(200);
      const timer = setInterval(() => {
        written++;
        response.write(Buffer.alloc(65_536));
      }, 1);
      response.once("close", () => clearInterval(timer));
    });
    expect(await deliver()).toEqual({ kind: "delivered" });
    const before = written;
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(written).toBeLessThanOrEqual(before + 20);
  });

  it("fails where its head never ends", async () => {
    const { deliver } = await receiver(({ socket }) => {
      socket?.write("HTTP/1.1 200 OK\r\n");
      const timer = setInterval(() => socket?.write(`X-More: ${"a".repeat(1000)}\r\n`), 1);
      socket?.once("close", () => clearInterval(timer));
    });
    expect((await deliver()).kind).toBe("failed");
  });

  it.each([301, 302, 307, 308])("is not followed where it answers %i", async (status) => {
    const { deliver, paths } = await receiver((response) => {
      response.writeHead(status, { Location: "/elsewhere" }).end();
    });
    expect(await deliver()).toEqual({ kind: "failed", reason: `HTTP ${status}` });
    expect(paths).toEqual(["/night"]);
  });

  it("cannot put a delivery off past all time", async () => {
    const { deliver } = await receiver((response) => {
      response.writeHead(503, { "Retry-After": "9".repeat(400) }).end();
    });
    expect(await deliver()).toEqual({ kind: "failed", reason: "HTTP 503" });
  });
});
