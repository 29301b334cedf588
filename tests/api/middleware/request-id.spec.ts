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
