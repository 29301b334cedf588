import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const app = testApp();

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
