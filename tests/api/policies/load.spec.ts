import { createServer, type RequestListener, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { directFirst } from "@fieldstop/api/node/direct";
import { prometheusMetrics } from "@fieldstop/api/node/metrics";
import { QueueingDelay } from "@fieldstop/api/node/queueing-delay";
import { type SheddingSettings, shedFirst } from "@fieldstop/api/node/shed-first";
import type { ShedReason } from "@fieldstop/api/policies/metrics";
import { getRequestListener } from "@hono/node-server";
import { afterEach, describe, expect, it } from "vitest";
import { breachOf, operations } from "../../prove/contract";
import { firstAnswer, rawExchange } from "../../prove/exchange";
import { problem, testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20";
const SOLVE = "/v1/exposures/solve";
const GOOD = '{"ev100":12,"aperture":8,"iso":100}';

/** A turn of the event loop after the other, each request taking so long. */
class Turns {
  nowMs = 1000;
  #end: (() => void) | undefined;
  readonly delay = new QueueingDelay(
    () => this.nowMs,
    (end) => {
      this.#end = end;
    },
  );

  /** Requests that are there when the turn begins; how many of them were answered. */
  turn(requests: number, eachMs: number, shedMs = 0.02): number {
    let answered = 0;
    for (let i = 0; i < requests; i++) {
      const late = this.delay.isTooLong();
      if (!late) answered++;
      this.nowMs += late ? shedMs : eachMs;
    }
    this.#end?.();
    this.#end = undefined;
    return answered;
  }

  idle(ms: number): void {
    this.nowMs += ms;
  }
}

describe("the wait for a turn", () => {
  it("is borne after a burst, for a while", () => {
    const turns = new Turns();
    expect(turns.turn(280, 1)).toBe(280);
    turns.idle(50);
    expect(turns.turn(90, 1)).toBe(90);
    // 300 ms, however many came at once
    const burst = new Turns().turn(5000, 1);
    expect(burst).toBeGreaterThan(295);
    expect(burst).toBeLessThan(310);
  });

  it("sheds what comes late in each turn, once one late turn followed the other", () => {
    const turns = new Turns();
    expect(turns.turn(160, 1)).toBe(160);
    expect(turns.turn(160, 1)).toBeGreaterThan(130);
    for (let i = 0; i < 5; i++) {
      const answered = turns.turn(400, 1);
      expect(answered).toBeGreaterThan(95);
      expect(answered).toBeLessThan(105);
    }
  });

  it("is forgotten as soon as a turn is short again, or nobody asked for a while", () => {
    const overloaded = () => {
      const turns = new Turns();
      for (let i = 0; i < 5; i++) turns.turn(400, 1);
      return turns;
    };
    const short = overloaded();
    short.turn(50, 1);
    expect(short.turn(250, 1)).toBe(250);
    const quiet = overloaded();
    quiet.idle(200);
    expect(quiet.turn(250, 1)).toBe(250);
  });

  it("is not that of a few requests that take long by themselves", () => {
    const turns = new Turns();
    for (let i = 0; i < 20; i++) expect(turns.turn(1, 400)).toBe(1);
  });

  it("leaves time for some, where more keeps coming than can even be told", () => {
    const turns = new Turns();
    for (let i = 0; i < 5; i++) turns.turn(400, 1);
    // a turn that never ends
    const startMs = turns.nowMs;
    let answered = 0;
    while (turns.nowMs - startMs < 10_000) {
      const late = turns.delay.isTooLong();
      if (!late) answered++;
      turns.nowMs += late ? 0.02 : 1;
    }
    expect(answered).toBeGreaterThan(1500);
  });
});

const servers: Server[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) server.close();
});

interface Service {
  readonly baseUrl: string;
  readonly address: { readonly host: string; readonly port: number };
  readonly shed: ShedReason[];
  readonly passedOn: () => number;
}

async function serviceWith(settings: Partial<SheddingSettings>): Promise<Service> {
  const shed: ShedReason[] = [];
  const app = testApp();
  let passedOn = 0;
  const inner = directFirst(app, getRequestListener(app.fetch));
  const rest: RequestListener = (incoming, outgoing) => {
    passedOn++;
    inner(incoming, outgoing);
  };
  const listener = shedFirst(
    {
      delay: { isTooLong: () => false },
      mostInFlight: 1000,
      inFlight: () => app.policies.inFlight,
      corsOrigins: [],
      onShed: (why) => shed.push(why),
      ...settings,
    },
    rest,
  );
  const server = createServer(listener);
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  return {
    baseUrl: `http://127.0.0.1:${port}`,
    address: { host: "127.0.0.1", port },
    shed,
    passedOn: () => passedOn,
  };
}

describe("overload", () => {
  it("is told in a problem that says when to come back, before anything is done for the request", async () => {
    let late = true;
    const service = await serviceWith({ delay: { isTooLong: () => late } });
    const shed = await fetch(service.baseUrl + DAY, { headers: { "X-Request-Id": "mine" } });
    expect(shed.headers.get("Retry-After")).toBe("1");
    expect(shed.headers.get("Cache-Control")).toBe("no-store");
    expect(shed.headers.get("X-Request-Id")).toBe("mine");
    expect(shed.headers.get("Access-Control-Allow-Origin")).toBe("*");
    expect(shed.headers.get("X-Content-Type-Options")).toBe("nosniff");
    const text = await shed.clone().text();
    expect((await problem(shed, 503)).instance).toBe("/v1/light-windows");
    const operation = operations.find(({ path, method }) => path === "/v1/light-windows" && method === "GET");
    expect(breachOf(operation as NonNullable<typeof operation>, 503, "application/problem+json", text)).toBeUndefined();
    expect(service.passedOn()).toBe(0);
    expect(service.shed).toEqual(["event-loop"]);
    late = false;
    expect((await fetch(service.baseUrl + DAY)).status).toBe(200);
  });

  it("is no matter for pages, probes and counts, nor for what a page asks beforehand", async () => {
    const { baseUrl } = await serviceWith({ delay: { isTooLong: () => true } });
    for (const path of ["/healthz", "/readyz", "/openapi.json"]) expect((await fetch(baseUrl + path)).status).toBe(200);
    const headers = { Origin: "https://club.example", "Access-Control-Request-Method": "GET" };
    expect((await fetch(baseUrl + DAY, { method: "OPTIONS", headers })).status).toBe(204);
    const head = await fetch(baseUrl + DAY, { method: "HEAD" });
    expect(head.status).toBe(503);
    expect(Number(head.headers.get("Content-Length"))).toBeGreaterThan(100);
  });

  it("leaves a connection as it was, whatever body came with the request", async () => {
    let turn = 0;
    const { address } = await serviceWith({ delay: { isTooLong: () => turn++ === 0 } });
    const request = `POST ${SOLVE} HTTP/1.1\r\nHost: here\r\nContent-Type: application/json\r\nContent-Length: ${GOOD.length}\r\n\r\n${GOOD}`;
    const bytes = await rawExchange(address, { writes: [request, 100, request] });
    const first = firstAnswer(bytes);
    expect(first?.status).toBe(503);
    const second = bytes.subarray(bytes.indexOf("HTTP/1.1", 10));
    expect(firstAnswer(second)?.status).toBe(200);
  });

  it("is also what is under way at once", async () => {
    const service = await serviceWith({ mostInFlight: 2 });
    const slow = `POST ${SOLVE} HTTP/1.1\r\nHost: here\r\nContent-Type: application/json\r\nContent-Length: ${GOOD.length}\r\n\r\n`;
    const taken = [1, 2].map(() => rawExchange(service.address, { writes: [slow, 300, GOOD] }));
    await expect.poll(service.passedOn).toBe(2);
    expect((await fetch(service.baseUrl + DAY)).status).toBe(503);
    expect(service.shed).toEqual(["in-flight"]);
    for (const bytes of await Promise.all(taken)) expect(firstAnswer(bytes)?.status).toBe(200);
    expect((await fetch(service.baseUrl + DAY)).status).toBe(200);
  });

  it("is counted by what there was too much of", async () => {
    const metrics = prometheusMetrics({ waiting: () => 0 });
    const { baseUrl } = await serviceWith({ delay: { isTooLong: () => true }, onShed: metrics.shed });
    await fetch(baseUrl + DAY);
    await fetch(baseUrl + DAY);
    expect((await metrics.text()).body).toMatch(/^fieldstop_shed_requests_total\{why="event-loop"\} 2$/m);
  });
});
