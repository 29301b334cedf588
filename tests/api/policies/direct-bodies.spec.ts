import { type IncomingHttpHeaders, request } from "node:http";
import { connect } from "node:net";
import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { operations } from "@fieldstop/api/operations/index";
import { compress } from "@fieldstop/api/server/compress";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type NodeService, nodeService } from "./node-service";

interface Service extends NodeService {
  readonly entries: AccessEntry[];
}

interface Answered {
  readonly status: number | undefined;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** The service over HTTP, with the door past router and web or without. */
async function serviceWith(door: boolean): Promise<Service> {
  const entries: AccessEntry[] = [];
  const policies = { compress, log: (entry: AccessEntry) => entries.push(entry), deadlineMs: 30_000 };
  return { ...(await nodeService(policies, door)), entries };
}

const JSON_HEADERS = { "Content-Type": "application/json", "X-Request-Id": "club.1" };
type Body = string | Uint8Array;
type Headers = Record<string, string | string[]>;

function ask(port: number, path: string, body: Body, headers: Headers = {}, method = "POST"): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const length = { "Content-Length": String(Buffer.byteLength(body)) };
    const announced = headers["Transfer-Encoding"] === undefined ? length : {};
    const asked = { ...JSON_HEADERS, ...announced, ...headers };
    const sent = request({ port, host: "127.0.0.1", path, method, headers: asked, agent: false }, (response) => {
      const chunks: Buffer[] = [];
      response.on("data", (chunk: Buffer) => chunks.push(chunk));
      response.on("end", () => {
        const { statusCode: status, headers: fields } = response;
        resolve({ status, headers: fields, body: Buffer.concat(chunks).toString("latin1") });
      });
    });
    sent.on("error", reject);
    sent.end(body);
  });
}

/** All but the clock's own, and what says that the body is read to its end. */
function comparable({ status, headers, body }: Answered) {
  const { date, "content-length": length, "transfer-encoding": _, ...fields } = headers;
  expect(date).toBeDefined();
  if (length !== undefined && body !== "") expect(Number(length)).toBe(body.length);
  return { status, fields, body };
}

/** What a connection answers to bytes, until it is idle or closed. */
function exchangeBytes(port: number, bytes: string, hangUp = false): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = "";
    const socket = connect(port, "127.0.0.1", () => socket.write(bytes));
    const done = (): void => {
      socket.destroy();
      resolve(text.replace(/^Date: .*\r\n/gim, ""));
    };
    socket.setTimeout(400, done);
    socket.on("data", (chunk) => {
      text += chunk.toString("latin1");
    });
    socket.on("error", reject);
    socket.on("close", () => resolve(text));
    if (hangUp) setTimeout(() => socket.destroy(), 100);
  });
}

interface Example {
  readonly value: unknown;
}
const examples = operations.flatMap(({ route }) => {
  const body = (route.request as { body?: { content: Record<string, { examples?: Record<string, Example> }> } }).body;
  const given = body?.content["application/json"]?.examples ?? {};
  return Object.entries(given).map(([name, { value }]) => [route.path, name, JSON.stringify(value)] as const);
});
const PLAN = "/v1/brackets/plan";
const GOOD = examples.find(([path]) => path === PLAN)?.[2] as string;
const LEVELS = examples.find(([path]) => path === "/v1/light-levels")?.[2] as string;

describe("an operation on a body", () => {
  let direct: Service;
  let routed: Service;
  beforeAll(async () => {
    [direct, routed] = [await serviceWith(true), await serviceWith(false)];
  });
  afterAll(() => {
    for (const { server } of [direct, routed]) server.close();
  });

  async function bothWays(path: string, body: Body, headers?: Headers, method?: string) {
    const before = direct.passedOn();
    const ours = comparable(await ask(direct.port, path, body, headers, method));
    expect(ours).toEqual(comparable(await ask(routed.port, path, body, headers, method)));
    return { ...ours, passedOn: direct.passedOn() > before };
  }

  it("is each of those that take JSON", () => {
    const taking = operations.filter(({ route }) => {
      const { body } = route.request as { body?: { content: object } };
      return body !== undefined && "application/json" in body.content;
    });
    expect(taking.length).toBeGreaterThan(15);
    expect(new Set(examples.map(([path]) => path))).toEqual(new Set(taking.map(({ route }) => route.path)));
  });

  it.each(examples)("answers the same past the router: %s, %s", async (path, _, body) => {
    const { status, passedOn } = await bothWays(path, body);
    expect(passedOn).toBe(path === "/v1/forecasts");
    expect([200, 404, 422, 503]).toContain(status);
  });

  it.each([
    ["is no JSON", "{", {}, 400],
    ["is empty", "", {}, 400],
    ["is a list", "[1]", {}, 400],
    ["is null", "null", {}, 400],
    ["is not UTF-8", Buffer.from([0x7b, 0xff, 0xfe, 0x7d]), {}, 400],
    ["begins with a mark of its order", `\ufeff${GOOD}`, {}, 200],
    ["names a field twice", `${GOOD.slice(0, -1)},"shadowEv100":2}`, {}, 200],
    ["names a prototype", `${GOOD.slice(0, -1)},"__proto__":{"shadowEv100":1}}`, {}, 400],
    ["has a field that nobody knows", `${GOOD.slice(0, -1)},"shdow":1}`, {}, 400],
    ["has what no double holds", GOOD.replace(/"shadowEv100":[^,]+/, '"shadowEv100":1e999'), {}, 400],
    ["cannot be answered", '{"shadowEv100":-30,"highlightEv100":30,"counts":[3]}', {}, 422],
    ["is deep", `${"[".repeat(5000)}${"]".repeat(5000)}`, {}, 400],
    ["is of another type", GOOD, { "Content-Type": "text/plain" }, 415],
    ["is of a type that cannot be read", GOOD, { "Content-Type": "application/json;;" }, 415],
    ["is in another charset", GOOD, { "Content-Type": "application/json; charset=latin1" }, 415],
    ["says its charset", GOOD, { "Content-Type": "Application/JSON; charset=utf-8" }, 200],
    ["says its type twice", GOOD, { "Content-Type": ["application/json", "text/plain"] }, 415],
    ["is coded", GOOD, { "Content-Encoding": "gzip" }, 415],
    ["is too large", `"${"x".repeat(300_000)}"`, {}, 413],
    ["does not say its length", GOOD, { "Transfer-Encoding": "chunked" }, 200],
    ["is too large and does not say its length", `"${"x".repeat(300_000)}"`, { "Transfer-Encoding": "chunked" }, 413],
    ["is to be answered as what it cannot be", GOOD, { Accept: "image/png" }, 406],
    ["is to be answered as JSON", GOOD, { Accept: "text/html;q=0.5, application/json" }, 200],
    ["is to be answered squeezed", GOOD, { "Accept-Encoding": "br" }, 200],
    ["comes from a page elsewhere", GOOD, { Origin: "https://club.example" }, 200],
    ["is announced before it is sent", GOOD, { Expect: "100-continue" }, 200],
  ] as [string, Body, Headers, number][])("answers the same to a body that %s", async (_, body, headers, status) => {
    expect((await bothWays(PLAN, body, headers)).status).toBe(status);
  });

  it.each([
    ["a question mark", `${PLAN}?x=1`, "POST", 200],
    ["GET", PLAN, "GET", 405],
    ["HEAD", PLAN, "HEAD", 405],
    ["PUT", PLAN, "PUT", 405],
    ["OPTIONS", PLAN, "OPTIONS", 405],
    ["an unknown path", "/v1/brackets/plans", "POST", 404],
    ["an escaped path", "/v1/brackets/pl%61n", "POST", 200],
  ] as const)("answers the same to %s", async (_, path, method, status) => {
    expect((await bothWays(path, method === "GET" || method === "HEAD" ? "" : GOOD, {}, method)).status).toBe(status);
  });

  it("answers the same as a picture", async () => {
    const { fields, passedOn } = await bothWays("/v1/light-levels", LEVELS, { Accept: "image/svg+xml" });
    expect(fields["content-type"]).toBe("image/svg+xml");
    expect(passedOn).toBe(false);
  });

  it("is logged the same", () => {
    const known = ({ requestId, method, route, status }: AccessEntry) => ({ requestId, method, route, status });
    expect(direct.entries.length).toBeGreaterThan(50);
    expect(direct.entries.map(known)).toEqual(routed.entries.map(known));
  });

  it("goes on with the connection after a body that was refused", async () => {
    const head = (type: string) =>
      `POST ${PLAN} HTTP/1.1\r\nHost: localhost\r\nX-Request-Id: a\r\nContent-Type: ${type}\r\nContent-Length: ${GOOD.length}\r\n\r\n${GOOD}`;
    const bytes = `${head("text/plain")}${head("application/json")}`;
    const [ours, theirs] = await Promise.all([exchangeBytes(direct.port, bytes), exchangeBytes(routed.port, bytes)]);
    for (const text of [ours, theirs]) {
      expect([...text.matchAll(/HTTP\/1\.1 (\d+)/g)].map(([, status]) => status)).toEqual(["415", "200"]);
    }
  });

  it("counts a body that is cut short as the caller's fault", async () => {
    const begun = (id: string, rest: string): string =>
      `POST ${PLAN} HTTP/1.1\r\nHost: localhost\r\nX-Request-Id: ${id}\r\nContent-Type: application/json\r\n${rest}`;
    const halves = {
      announced: begun("announced", `Content-Length: ${GOOD.length}\r\n\r\n{"shad`),
      chunked: begun("chunked", 'Transfer-Encoding: chunked\r\n\r\n6\r\n{"shad\r\n'),
    };
    for (const service of [direct, routed]) {
      for (const [requestId, half] of Object.entries(halves)) {
        await exchangeBytes(service.port, half, true);
        await expect.poll(() => service.entries.at(-1)).toMatchObject({ requestId, status: 400 });
      }
    }
  });
});
