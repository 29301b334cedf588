import { json } from "@fieldstop/api/middleware/answer";
import { type Operation, operation } from "@fieldstop/api/operations/operation";
import { createRoute, z } from "@hono/zod-openapi";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

describe("an operation that is to be left", () => {
  const route = createRoute({
    method: "get",
    path: "/v1/old/{thing}",
    request: { params: z.object({ thing: z.string() }) },
    responses: { 200: { description: "An answer", content: { "application/json": { schema: z.object({}) } } } },
  });
  const old = operation(route, () => json({}), {
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
