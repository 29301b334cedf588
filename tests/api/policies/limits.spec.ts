import { createHash } from "node:crypto";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import type { Asked } from "@fieldstop/api/middleware/asked";
import { apiKeysFromFile, newApiKey } from "@fieldstop/api/server/api-keys";
import { clientAddressOf } from "@fieldstop/api/server/client-address";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const SUN = "/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T18:00:00Z";
const log = pino({ level: "silent" });

describe("rate limits", () => {
  it("tell what is left, and refuse what is beyond with the time to come back", async () => {
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(3) } });
    for (const left of [2, 1, 0]) {
      const { headers, status } = await app.request(SUN);
      expect(status).toBe(200);
      expect(headers.get("RateLimit-Policy")).toBe('"client";q=3;w=60');
      expect(headers.get("RateLimit")).toMatch(new RegExp(`^"client";r=${left};t=(60|59)$`));
    }
    const refused = await app.request(SUN);
    expect(Number(refused.headers.get("Retry-After"))).toBeGreaterThan(0);
    expect(refused.headers.get("RateLimit")).toMatch(/^"client";r=0;t=\d+$/);
    expect(refused.headers.get("Cache-Control")).toBe("no-store");
    await problem(refused, 429);
    // neither pages nor probes count
    for (const path of ["/docs", "/healthz", "/openapi.json"]) expect((await app.request(path)).status).toBe(200);
  });

  it("are each client's own", async () => {
    const clientOf = ({ headers }: Asked) => headers.get("x-test-client") ?? "";
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(1), clientOf } });
    const statusFor = async (client: string) =>
      (await app.request(SUN, { headers: { "X-Test-Client": client } })).status;
    expect(await statusFor("a")).toBe(200);
    expect(await statusFor("b")).toBe(200);
    expect(await statusFor("a")).toBe(429);
  });

  it("count what takes longer for more", async () => {
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(100) } });
    const response = await app.request("/v1/outings/compare", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: "{}",
    });
    expect(response.headers.get("RateLimit")).toMatch(/;r=90;/);
  });
});

describe("the address of a client", () => {
  const address = (proxies: number, peer: string, forwarded?: string) =>
    clientAddressOf(proxies)(
      new Request("http://localhost/", { headers: forwarded === undefined ? {} : { "X-Forwarded-For": forwarded } }),
      { incoming: { socket: { remoteAddress: peer } } },
    );

  it.each([
    [0, "192.0.2.1", "203.0.113.9", "192.0.2.1"],
    [1, "192.0.2.1", "198.51.100.7, 203.0.113.9", "203.0.113.9"],
    [2, "192.0.2.1", "198.51.100.7, 203.0.113.9", "198.51.100.7"],
    [1, "192.0.2.1", undefined, "192.0.2.1"],
    [0, "::ffff:192.0.2.1", undefined, "192.0.2.1"],
    [0, "2001:db8:1:2:3:4:5:6", undefined, "2001:db8:1:2::/64"],
    [0, "2001:db8::6", undefined, "2001:db8:0:0::/64"],
  ] as const)("behind %i proxies, from %s by way of %s, is %s", (proxies, peer, forwarded, expected) => {
    expect(address(proxies, peer, forwarded)).toBe(expected);
  });
});

describe("API keys", () => {
  const club = newApiKey("club");
  const file = join(mkdtempSync(join(tmpdir(), "fieldstop-")), "keys");
  writeFileSync(file, `# of the club\n\n${club.line}\n`);
  const entries: AccessEntry[] = [];
  const app = testApp(
    {},
    {
      policies: {
        apiKeys: apiKeysFromFile(file, log),
        rateLimiter: rateLimiter(100),
        log: (entry) => entries.push(entry),
      },
    },
  );
  const ask = (authorization?: string) =>
    app.request(SUN, { headers: authorization === undefined ? {} : { Authorization: authorization } });

  it("open the service to their holders alone", async () => {
    expect((await ask(`Bearer ${club.key}`)).status).toBe(200);
    const refused = await ask();
    expect(refused.headers.get("WWW-Authenticate")).toBe('Bearer realm="fieldstop"');
    await problem(refused, 401);
    const stranger = newApiKey("club").key;
    for (const bad of [`Bearer ${stranger}`, `Bearer ${club.key}x`, `Basic ${club.key}`, "Bearer", club.key]) {
      await problem(ask(bad), 401);
    }
  });

  it("leave pages and probes open", async () => {
    for (const path of ["/docs", "/healthz", "/readyz"]) expect((await app.request(path)).status).toBe(200);
  });

  it("keep shared caches out", async () => {
    const { headers } = await ask(`Bearer ${club.key}`);
    expect(headers.get("Cache-Control")).toBe("private, max-age=86400, immutable");
  });

  it("are in the file as hashes, and in no log", () => {
    expect(club.line).toBe(`club sha256:${createHash("sha256").update(club.key).digest("hex")}`);
    expect(entries.length).toBeGreaterThan(5);
    expect(JSON.stringify(entries)).not.toContain(club.key.slice(8));
  });

  it("stop the start where their file makes no sense", () => {
    writeFileSync(`${file}.bad`, "club secret\n");
    expect(() => apiKeysFromFile(`${file}.bad`, log)).toThrow(/^FIELDSTOP_API_KEYS is .*line 1/);
    expect(() => apiKeysFromFile(`${file}.none`, log)).toThrow(/^FIELDSTOP_API_KEYS is /);
  });
});
