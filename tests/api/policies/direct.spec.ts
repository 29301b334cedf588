import { type IncomingHttpHeaders, request } from "node:http";
import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { compress } from "@fieldstop/api/server/compress";
import { prometheusMetrics } from "@fieldstop/api/server/metrics";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type NodeService, nodeService } from "./node-service";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20&horizon=flat";
const PICTURE = "/v1/light-windows.svg?latitude=56.6&longitude=-9.4&date=2027-03-20&horizon=flat";

interface Answered {
  readonly status: number | undefined;
  readonly headers: IncomingHttpHeaders;
  readonly body: Buffer;
}

interface Service extends NodeService {
  readonly entries: AccessEntry[];
  readonly metrics: () => Promise<string>;
}

/** The service over HTTP, with the door for kept answers or without. */
async function serviceWith(keptDoor: boolean, points: number): Promise<Service> {
  const entries: AccessEntry[] = [];
  const metrics = prometheusMetrics({ waiting: () => 0 });
  const policies = {
    compress,
    metrics,
    log: (entry: AccessEntry) => entries.push(entry),
    rateLimiter: rateLimiter(points),
  };
  return { ...(await nodeService(policies, keptDoor)), entries, metrics: async () => (await metrics.text()).body };
}

function ask({ port }: Service, path: string, headers: Record<string, string> = {}, method = "GET"): Promise<Answered> {
  return new Promise((resolve, reject) => {
    request({ port, host: "127.0.0.1", path, method, headers, agent: false }, (response) => {
      const chunks: Buffer[] = [];
      response.on("data", (chunk: Buffer) => chunks.push(chunk));
      response.on("end", () =>
        resolve({ status: response.statusCode, headers: response.headers, body: Buffer.concat(chunks) }),
      );
    })
      .on("error", reject)
      .end();
  });
}

/** All but the clock's own. */
function comparable({ status, headers, body }: Answered) {
  const { date, ratelimit, ...others } = headers;
  expect(date).toBeDefined();
  return { status, others, left: /;r=\d+/.exec(String(ratelimit))?.[0], body: body.toString("latin1") };
}

describe("a kept answer", () => {
  let withDoor: Service;
  let without: Service;
  beforeAll(async () => {
    [withDoor, without] = [await serviceWith(true, 40), await serviceWith(false, 40)];
  });
  afterAll(() => {
    for (const { server } of [withDoor, without]) server.close();
  });
  const id = { "X-Request-Id": "club.1" };

  it.each([
    ["plain", DAY, {}],
    ["with gzip", DAY, { "Accept-Encoding": "gzip" }],
    ["with brotli", DAY, { "Accept-Encoding": "br" }],
    ["to a page of another origin", DAY, { Origin: "https://club.example" }],
    ["in a trace", DAY, { traceparent: "00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01" }],
    ["as a picture", PICTURE, {}],
    ["as a picture by type", DAY, { Accept: "image/svg+xml" }],
    ["to who has it already", DAY, { "If-None-Match": "*" }],
    ["to who has an older one", DAY, { "If-None-Match": '"older"' }],
    ["to HEAD", DAY, {}, "HEAD"],
  ] as [string, string, Record<string, string>, string?][])("is the same %s", async (_, path, headers, method) => {
    // made, if it was not yet, then asked for again
    for (const service of [withDoor, without]) await ask(service, path, { ...id, ...headers });
    const before = withDoor.passedOn();
    const ours = comparable(await ask(withDoor, path, { ...id, ...headers }, method));
    expect(withDoor.passedOn() - before).toBe(method === "HEAD" ? 1 : 0);
    expect(ours).toEqual(comparable(await ask(without, path, { ...id, ...headers }, method)));
    expect(ours.others["x-request-id"]).toBe("club.1");
    expect(ours.left).toBeDefined();
  });

  it.each(["GET", "HEAD"])("does not stand for a query with a parameter without a name, by %s", async (method) => {
    for (const service of [withDoor, without]) {
      await ask(service, DAY, id);
      const { status, headers, body } = await ask(service, `${DAY}&=x`, id, method);
      expect(status).toBe(400);
      expect(headers["content-type"]).toBe("application/problem+json");
      if (method === "GET") expect(JSON.parse(body.toString()).detail).toBe("query: a parameter without a name");
    }
  });

  it("is counted and logged as any other", async () => {
    const known = ({ requestId, traceId, method, route, status, near }: AccessEntry) => {
      return { requestId, traceId, method, route, status, near };
    };
    expect(withDoor.entries.length).toBeGreaterThan(15);
    expect(withDoor.entries.map(known)).toEqual(without.entries.map(known));
    const counts = async ({ metrics }: Service) =>
      (await metrics())
        .split("\n")
        .filter((line) => /^fieldstop_(request_duration_seconds_count|response_cache)/.test(line));
    expect(await counts(withDoor)).toEqual(await counts(without));
    expect((await counts(withDoor)).length).toBeGreaterThan(3);
  });

  it("is refused as any other to who has asked too often", async () => {
    for (const service of [withDoor, without]) {
      let left = 40;
      while (left > 0) left = Number(/r=(\d+)/.exec(String((await ask(service, DAY, id)).headers["ratelimit"]))?.[1]);
    }
    const refused = async (service: Service) => {
      const { status, others, body } = comparable(await ask(service, DAY, id));
      const { "retry-after": _, ...fields } = others;
      return { status, fields, body };
    };
    const before = withDoor.passedOn();
    const ours = await refused(withDoor);
    expect(withDoor.passedOn()).toBe(before);
    const theirs = await refused(without);
    expect(ours.status).toBe(429);
    expect(ours.body).toBe(theirs.body);
    // the length is told, or the body is sent in pieces
    const { "content-length": _, "transfer-encoding": __, ...fields } = theirs.fields;
    expect(ours.fields).toMatchObject(fields);
  });
});
