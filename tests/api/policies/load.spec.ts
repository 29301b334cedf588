import { createServer, type RequestListener, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { setImmediate } from "node:timers/promises";
import type { ShedReason } from "@fieldstop/api/middleware/metrics";
import { directFirst } from "@fieldstop/api/server/direct";
import { prometheusMetrics } from "@fieldstop/api/server/metrics";
import { type SheddingSettings, shedFirst } from "@fieldstop/api/server/shed-first";
import { WaitingLine } from "@fieldstop/api/server/waiting-line";
import { getRequestListener } from "@hono/node-server";
import { afterEach, describe, expect, it } from "vitest";
import { breachOf, operations } from "../../prove/contract";
import { Caller, firstAnswer, rawExchange } from "../../prove/exchange";
import { problem, testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20";
const SOLVE = "/v1/exposures/solve";
const GOOD = '{"ev100":12,"aperture":8,"iso":100}';

/** An event loop of which each turn brings requests that take so long, and a server that takes them in line. */
class Turns {
  nowMs = 1000;
  answered = 0;
  /** Longest that anyone waited who was answered, and who was shed [ms]. */
  longestMs = { answered: 0, shed: 0 };
  #resume: (() => void) | undefined;
  #goOn: (() => void) | undefined;
  readonly #line: WaitingLine<number>;

  constructor(eachMs: number, shedMs = 0.02) {
    this.#line = new WaitingLine<number>({
      take: (cameMs) => {
        this.longestMs.answered = Math.max(this.longestMs.answered, this.nowMs - cameMs);
        this.answered++;
        this.nowMs += eachMs;
      },
      shed: (cameMs) => {
        this.longestMs.shed = Math.max(this.longestMs.shed, this.nowMs - cameMs);
        this.nowMs += shedMs;
      },
      nowMs: () => this.nowMs,
      atNextTurn: (resume) => {
        this.#resume = resume;
      },
      whenDone: (resume) => {
        this.#goOn = resume;
      },
    });
  }

  /** So many come at once. */
  come(requests: number): void {
    for (let i = 0; i < requests; i++) this.#line.come(this.nowMs);
  }

  newConnection(): void {
    this.#line.newConnection();
  }

  /** One turn; whether there was anything to do. */
  turn(): boolean {
    const resume = this.#resume;
    this.#resume = undefined;
    resume?.();
    while (this.#goOn !== undefined) {
      const goOn = this.#goOn;
      this.#goOn = undefined;
      goOn();
    }
    return resume !== undefined;
  }

  /** Until nobody waits. */
  finish(): void {
    while (this.turn());
  }

  /** At a steady rate for a time. */
  load(perMs: number, ms: number): void {
    const endMs = this.nowMs + ms;
    for (let cameMs = this.nowMs; this.nowMs < endMs; ) {
      const due = Math.floor((this.nowMs - cameMs) * perMs);
      this.come(due);
      cameMs += due / perMs;
      if (!this.turn()) this.nowMs += 1;
    }
    this.finish();
  }
}

describe("the line", () => {
  it("is no matter while there is none: each is taken as it comes", () => {
    const turns = new Turns(1);
    turns.load(0.5, 2000);
    expect(turns.answered).toBeGreaterThan(990);
    expect(turns.longestMs).toEqual({ answered: expect.closeTo(0, -1), shed: 0 });
  });

  it("is borne after a burst, for a while, also after a while without", () => {
    const turns = new Turns(1);
    for (let i = 0; i < 3; i++) {
      turns.come(280);
      turns.finish();
      expect(turns.answered).toBe((i + 1) * 280);
      turns.nowMs += 1000;
    }
    const burst = new Turns(1);
    burst.come(5000);
    burst.finish();
    // 300 ms, however many came at once, and some while the others are told
    expect(burst.answered).toBeGreaterThan(295);
    expect(burst.answered).toBeLessThan(430);
  });

  it("sheds who has waited too long where it does not end, and answers nearly as many as ever", () => {
    const turns = new Turns(0.2);
    turns.load(10, 1000);
    turns.longestMs = { answered: 0, shed: 0 };
    turns.answered = 0;
    turns.load(10, 5000);
    expect(turns.longestMs.answered).toBeLessThan(310);
    expect(turns.longestMs.shed).toBeLessThan(320);
    // 5 a millisecond are what it can do; shedding as many takes a tenth of that
    expect(turns.answered).toBeGreaterThan(0.85 * 5 * 5000);
  });

  it("leaves time for answers, where more come than can even be told", () => {
    const turns = new Turns(0.2);
    const endMs = turns.nowMs + 5000;
    while (turns.nowMs < endMs) {
      turns.come(500);
      turns.turn();
    }
    // half of what it could do
    expect(turns.answered).toBeGreaterThan(0.46 * 5 * 5000);
  });

  it("is not that of a few requests that take long by themselves", () => {
    const turns = new Turns(400);
    for (let i = 0; i < 20; i++) {
      turns.come(1);
      turns.finish();
    }
    expect(turns.answered).toBe(20);
  });

  it("leaves time for others: a turn takes a few milliseconds, however many wait, and one while there are new connections", () => {
    const turns = new Turns(0.2);
    turns.come(1000);
    const turnMs = (): number => {
      const beganMs = turns.nowMs;
      turns.turn();
      return turns.nowMs - beganMs;
    };
    for (let i = 0; i < 20; i++) expect(turnMs()).toBeCloseTo(2, 0);
    for (let i = 0; i < 20; i++) {
      turns.newConnection();
      expect(turnMs()).toBeCloseTo(1, 0);
    }
    expect(turnMs()).toBeCloseTo(2, 0);
  });
});

describe("a turn of the line", () => {
  it("counts what is done after promises, as answers are", async () => {
    let nowMs = 0;
    let answered = 0;
    const take = async (): Promise<void> => {
      await Promise.resolve();
      await null;
      nowMs += 1;
      answered++;
    };
    const line = new WaitingLine<number>({ take, shed: () => {}, nowMs: () => nowMs });
    // the first is taken as it comes, and the turn is over
    line.come(0);
    nowMs = 10;
    for (let i = 1; i <= 20; i++) line.come(i);
    for (let before = 0; answered < 21; before = answered) {
      await setImmediate();
      expect(answered - before).toBeLessThan(7);
      expect(answered).toBeGreaterThan(before);
    }
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

/** @param busyMs how long the event loop is kept from all else by each request that is taken [ms] */
async function serviceWith(settings: Partial<SheddingSettings>, busyMs = () => 0): Promise<Service> {
  const shed: ShedReason[] = [];
  const app = testApp();
  let passedOn = 0;
  const inner = directFirst(app, getRequestListener(app.fetch));
  const rest: RequestListener = (incoming, outgoing) => {
    passedOn++;
    for (const endMs = performance.now() + busyMs(); performance.now() < endMs; );
    inner(incoming, outgoing);
  };
  const { onRequest, onConnection } = shedFirst(
    {
      mostInFlight: 1000,
      inFlight: () => app.policies.inFlight,
      corsOrigins: [],
      onShed: (why) => shed.push(why),
      ...settings,
    },
    rest,
  );
  const server = createServer(onRequest).on("connection", onConnection);
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
    const service = await serviceWith({ mostInFlight: 1, inFlight: () => (late ? 1 : 0) });
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
    expect(service.shed).toEqual(["in-flight"]);
    late = false;
    expect((await fetch(service.baseUrl + DAY)).status).toBe(200);
  });

  it("is no matter for pages, probes and counts, nor for what a page asks beforehand", async () => {
    const { baseUrl } = await serviceWith({ mostInFlight: 0 });
    for (const path of ["/healthz", "/readyz", "/openapi.json"]) expect((await fetch(baseUrl + path)).status).toBe(200);
    const headers = { Origin: "https://club.example", "Access-Control-Request-Method": "GET" };
    expect((await fetch(baseUrl + DAY, { method: "OPTIONS", headers })).status).toBe(204);
    const head = await fetch(baseUrl + DAY, { method: "HEAD" });
    expect(head.status).toBe(503);
    expect(Number(head.headers.get("Content-Length"))).toBeGreaterThan(100);
  });

  it("leaves a connection as it was, whatever body came with the request", async () => {
    let turn = 0;
    const { address } = await serviceWith({ mostInFlight: 1, inFlight: () => (turn++ === 0 ? 1 : 0) });
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

  it("is a wait that is too long", async () => {
    let busyMs = 0;
    const service = await serviceWith({}, () => busyMs);
    const caller = new Caller(service.address, 10);
    const askTen = async () => {
      const answers = await Promise.all(Array.from({ length: 10 }, () => caller.ask("GET", DAY)));
      return answers.map(({ status }) => status);
    };
    expect(await askTen()).toEqual(Array(10).fill(200));
    busyMs = 120;
    const statuses = await askTen();
    busyMs = 0;
    caller.close();
    const shed = statuses.filter((status) => status === 503).length;
    expect(service.shed).toEqual(Array(shed).fill("event-loop"));
    expect(shed).toBeGreaterThan(0);
    expect(statuses.filter((status) => status === 200).length).toBe(10 - shed);
    expect(10 - shed).toBeGreaterThan(1);
    expect((await fetch(service.baseUrl + DAY)).status).toBe(200);
  });

  it("is counted by what there was too much of", async () => {
    const metrics = prometheusMetrics({ waiting: () => 0 });
    const { baseUrl } = await serviceWith({ mostInFlight: 0, onShed: metrics.shed });
    await fetch(baseUrl + DAY);
    await fetch(baseUrl + DAY);
    expect((await metrics.text()).body).toMatch(/^fieldstop_shed_requests_total\{why="in-flight"\} 2$/m);
  });
});
