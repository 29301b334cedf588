import { brotliDecompressSync, gunzipSync } from "node:zlib";
import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { compress } from "@fieldstop/api/server/compress";
import { prometheusMetrics } from "@fieldstop/api/server/metrics";
import { openTelemetry } from "@fieldstop/api/server/tracing";
import { InMemorySpanExporter, SimpleSpanProcessor } from "@opentelemetry/sdk-trace-node";
import { describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";
const LEVELS = {
  place: { latitude: 56.6, longitude: -9.4 },
  from: "2027-03-20T17:00:00Z",
  to: "2027-03-20T19:00:00Z",
  stepMinutes: 5,
};
const post = (body: unknown, headers: Record<string, string> = {}) => ({
  method: "POST",
  headers: { "Content-Type": "application/json", ...headers },
  body: JSON.stringify(body),
});

describe("compression", () => {
  let made = 0;
  const app = testApp(
    {},
    {
      policies: {
        compress: (bytes, encoding) => {
          made++;
          return compress(bytes, encoding);
        },
      },
    },
  );
  const ask = (encoding?: string) =>
    app.request(DAY, { headers: encoding === undefined ? {} : { "Accept-Encoding": encoding } });

  it("gives each caller the smallest form that they take, made once", async () => {
    const plain = await (await ask()).text();
    const gzipped = await ask("gzip");
    const brotli = await ask("gzip, deflate, br");
    expect(gzipped.headers.get("Content-Encoding")).toBe("gzip");
    expect(brotli.headers.get("Content-Encoding")).toBe("br");
    expect(gunzipSync(await gzipped.arrayBuffer()).toString()).toBe(plain);
    expect(brotliDecompressSync(await brotli.arrayBuffer()).toString()).toBe(plain);
    for (const encoding of ["gzip", "br", "br;q=0.5, gzip", "*"]) await ask(encoding);
    expect(made).toBe(2);
    for (const encoding of ["identity", "gzip;q=0", "zstd"]) {
      expect((await ask(encoding)).headers.get("Content-Encoding"), encoding).toBeNull();
    }
  });

  it("has a tag for each form, and knows them all", async () => {
    const tags = await Promise.all([undefined, "gzip", "br"].map(async (e) => (await ask(e)).headers.get("ETag")));
    expect(new Set(tags).size).toBe(3);
    for (const tag of tags) {
      const response = await app.request(DAY, { headers: { "If-None-Match": tag as string, "Accept-Encoding": "br" } });
      expect(response.status).toBe(304);
    }
    expect((await ask()).headers.get("Vary")).toBe("Accept, Accept-Encoding");
  });

  it("is for large answers alone, of bodies too", async () => {
    const small = await app.request("/v1/dew-point?temperatureC=8&relativeHumidity=90", {
      headers: { "Accept-Encoding": "br" },
    });
    expect(small.headers.get("Content-Encoding")).toBeNull();
    const large = await app.request("/v1/light-levels", post(LEVELS, { "Accept-Encoding": "gzip" }));
    expect(large.headers.get("Content-Encoding")).toBe("gzip");
    expect(JSON.parse(gunzipSync(await large.arrayBuffer()).toString())).toHaveProperty("timeZone");
  });

  it("that fails leaves the answer plain", async () => {
    const failing = testApp({}, { policies: { compress: () => Promise.reject(new Error("no memory")) } });
    for (const init of [{}, post(LEVELS)]) {
      const headers = { ...(init as { headers?: Record<string, string> }).headers, "Accept-Encoding": "br" };
      const path = "method" in init ? "/v1/light-levels" : DAY;
      const response = await failing.request(path, { ...init, headers });
      const text = await response.text();
      expect(response.status, text).toBe(200);
      expect(response.headers.get("Content-Encoding")).toBeNull();
      expect(text.length).toBeGreaterThan(2048);
      expect(JSON.parse(text)).toBeTypeOf("object");
    }
  });
});

describe("CORS", () => {
  const origin = "https://club.example";
  const allowedFor = async (corsOrigins: "off" | "*" | string[], init: RequestInit, path = DAY) => {
    const response = await testApp({}, { policies: { corsOrigins } }).request(path, init);
    return response.headers.get("Access-Control-Allow-Origin");
  };

  it("lets every page read what a GET answers, and asks no origin for it", async () => {
    expect(await allowedFor([], {})).toBe("*");
    expect(await allowedFor([], { headers: { Origin: origin } })).toBe("*");
    expect(await allowedFor("off", { headers: { Origin: origin } })).toBeNull();
  });

  it("lets listed pages send bodies", async () => {
    const init = post({ ev100: 12, aperture: 8, iso: 100 }, { Origin: origin });
    const solve = (origins: "off" | "*" | string[]) => allowedFor(origins, init, "/v1/exposures/solve");
    expect(await solve([origin])).toBe(origin);
    expect(await solve(["https://other.example"])).toBeNull();
    expect(await solve("*")).toBe("*");
    expect(await solve("off")).toBeNull();
  });

  it("answers the question beforehand", async () => {
    const headers = { Origin: origin, "Access-Control-Request-Method": "POST" };
    const ask = (corsOrigins: string[]) =>
      testApp({}, { policies: { corsOrigins } }).request(DAY, { method: "OPTIONS", headers });
    const [listed, unlisted] = [await ask([origin]), await ask([])];
    expect(listed.status).toBe(204);
    expect(listed.headers.get("Access-Control-Allow-Methods")).toBe("GET, HEAD, POST");
    expect(listed.headers.get("Access-Control-Allow-Headers")).toContain("Authorization");
    expect(listed.headers.get("Vary")).toContain("Origin");
    expect(unlisted.headers.get("Access-Control-Allow-Methods")).toBe("GET, HEAD");
  });
});

describe("a deadline", () => {
  it("ends the wait with 503", async () => {
    const never = new Promise<never>(() => {});
    const terrain = {
      horizonAt: () => never,
      highestNear: async () => null,
      groundElevationM: () => never,
      dataVersion: "1",
    };
    const app = testApp({ terrain }, { policies: { deadlineMs: 50 } });
    const response = await app.request("/v1/horizon?latitude=56.6&longitude=-9.4");
    expect(response.headers.get("Retry-After")).toBe("1");
    await problem(response, 503);
    expect((await app.request(DAY)).status).toBe(200);
  });
});

describe("the log", () => {
  it("has a line for each request, without a person in it", async () => {
    const entries: AccessEntry[] = [];
    const app = testApp({}, { policies: { log: (entry) => entries.push(entry) } });
    const traceId = "4bf92f3577b34da6a3ce929d0e0e4736";
    await app.request(`${DAY}&name=Mhairi`, { headers: { traceparent: `00-${traceId}-00f067aa0ba902b7-01` } });
    await app.request("/v1/reference/nothing", { headers: { traceparent: "00-nonsense" } });
    await app.request("/secret/path");
    expect(entries.map(({ route, status }) => [route, status])).toEqual([
      ["/v1/light-windows", 200],
      ["/v1/reference/:table", 404],
      ["unmatched", 404],
    ]);
    expect(entries[0]).toMatchObject({ traceId, near: [56.6, -9.4], method: "GET" });
    expect(entries[1]?.traceId).toBeUndefined();
    // neither the name nor the digits of the place beyond a tenth of a degree
    expect(JSON.stringify(entries)).not.toMatch(/Mhairi|56\.61|9\.43|secret/);
  });
});

describe("/metrics", () => {
  it("counts by declared path, and what was kept", async () => {
    const app = testApp({}, { policies: { metrics: prometheusMetrics({ waiting: () => 3 }) } });
    for (let i = 0; i < 3; i++) await app.request(DAY);
    for (const table of ["a", "b"]) await app.request(`/v1/reference/${table}`);
    const response = await app.request("/metrics");
    expect(response.headers.get("Content-Type")).toContain("text/plain");
    const text = await response.text();
    const count = (labels: string) => new RegExp(`${labels} (\\d+)`).exec(text)?.[1];
    const seconds = "fieldstop_request_duration_seconds_count";
    expect(count(`${seconds}{route="/v1/light-windows",method="GET",status="200"}`)).toBe("3");
    expect(count(`${seconds}{route="/v1/reference/:table",method="GET",status="404"}`)).toBe("2");
    expect(count('fieldstop_response_cache_lookups_total{result="hit"}')).toBe("2");
    expect(count("fieldstop_requests_in_flight")).toBe("1");
    expect(count("fieldstop_pool_queue_size")).toBe("3");
    expect(text).toContain("nodejs_eventloop_lag_seconds");
    expect(text).not.toContain("56.6");
  });

  it("is not there where nothing counts", async () => {
    await problem(testApp().request("/metrics"), 404);
  });
});

describe("traces", () => {
  it("have a span for each request, child of the caller's", async () => {
    const exporter = new InMemorySpanExporter();
    const tracing = openTelemetry(new SimpleSpanProcessor(exporter));
    const app = testApp({}, { policies: { tracing } });
    const [traceId, parent] = ["4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7"];
    await app.request(DAY, { headers: { traceparent: `00-${traceId}-${parent}-01` } });
    await app.request("/v1/reference/nothing");
    const [day, table] = exporter.getFinishedSpans();
    expect(day?.name).toBe("GET /v1/light-windows");
    expect(day?.spanContext().traceId).toBe(traceId);
    expect(day?.parentSpanContext?.spanId).toBe(parent);
    expect(day?.attributes).toMatchObject({ "http.route": "/v1/light-windows", "http.response.status_code": 200 });
    expect(table?.attributes["http.route"]).toBe("/v1/reference/:table");
    expect(JSON.stringify(day?.attributes)).not.toContain("56.6");
    await tracing.close();
  });
});
