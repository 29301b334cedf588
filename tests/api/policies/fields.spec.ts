import { type Operation, operation } from "@fieldstop/api/operations/operation";
import { createRoute, z } from "@hono/zod-openapi";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const app = testApp();

describe("X-Request-Id", () => {
  it("is new for each request", async () => {
    const ids = await Promise.all([1, 2].map(async () => (await app.request("/healthz")).headers.get("X-Request-Id")));
    expect(ids[0]).toMatch(/^[0-9a-f-]{36}$/);
    expect(ids[0]).not.toBe(ids[1]);
  });

  it("is the caller's where that is sane", async () => {
    const idFor = async (brought: string) =>
      (await app.request("/healthz", { headers: { "X-Request-Id": brought } })).headers.get("X-Request-Id");
    expect(await idFor("club-page.4711")).toBe("club-page.4711");
    for (const bad of ["two words", "<b>", "x".repeat(129), 'quote"']) expect(await idFor(bad)).not.toBe(bad);
  });
});

describe("security fields", () => {
  it.each(["/healthz", "/v1/sun?latitude=1&longitude=1", "/v1/moonbeams", "/openapi.json"])(
    "stand on %s, which may load nothing",
    async (path) => {
      const { headers } = await app.request(path);
      expect(headers.get("X-Content-Type-Options")).toBe("nosniff");
      expect(headers.get("Referrer-Policy")).toBe("no-referrer");
      expect(headers.get("Cross-Origin-Resource-Policy")).toBe("cross-origin");
      expect(headers.get("Content-Security-Policy")).toBe("default-src 'none'; frame-ancestors 'none'");
    },
  );

  it.each(["/docs", "/problems/not-found"])("let the page %s load from this service alone", async (path) => {
    const policy = (await app.request(path)).headers.get("Content-Security-Policy");
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toMatch(/https?:|script-src[^;]*unsafe/);
  });

  it("leave a picture its own policy", async () => {
    const { headers } = await app.request("/v1/horizon.svg?latitude=56.6&longitude=-9.4&horizon=flat");
    expect(headers.get("Content-Security-Policy")).toBe("default-src 'none'; style-src 'unsafe-inline'");
  });
});

describe("an operation that is to be left", () => {
  const route = createRoute({
    method: "get",
    path: "/v1/old/{thing}",
    request: { params: z.object({ thing: z.string() }) },
    responses: { 200: { description: "An answer", content: { "application/json": { schema: z.object({}) } } } },
  });
  const old = operation(route, (c) => c.json({}, 200), {
    deprecation: { since: "2027-01-01T00:00:00Z", sunset: "2028-01-01T00:00:00Z", link: "/docs/leaving-old" },
  });
  const withOld = testApp({}, { operations: [old as unknown as Operation] });

  it("says so with every answer", async () => {
    const { headers, status } = await withOld.request("/v1/old/lens");
    expect(status).toBe(200);
    expect(headers.get("Deprecation")).toBe("@1798761600");
    expect(headers.get("Sunset")).toBe("Sat, 01 Jan 2028 00:00:00 GMT");
    expect(headers.get("Link")).toBe('</docs/leaving-old>; rel="deprecation"; type="text/html"');
  });

  it("alone", async () => {
    const { headers } = await withOld.request("/healthz");
    for (const name of ["Deprecation", "Sunset", "Link"]) expect(headers.get(name)).toBeNull();
  });

  it("says so in the contract", () => {
    const document = withOld.getOpenAPI31Document({ openapi: "3.1.0", info: { title: "", version: "" } });
    expect(document.paths?.["/v1/old/{thing}"]?.get?.deprecated).toBe(true);
  });
});
