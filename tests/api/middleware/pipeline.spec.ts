import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { operations } from "@fieldstop/api/operations/index";
import { apiKeysFromFile, newApiKey } from "@fieldstop/api/server/api-keys";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const file = join(mkdtempSync(join(tmpdir(), "fieldstop-")), "keys");
const { key, line } = newApiKey("club");
writeFileSync(file, `${line}\n`);

/** Every path of the contract with each of its methods, HEAD for GET included. */
const ways = operations.flatMap(({ route }) => {
  const path = route.path.replace("{table}", "filter-grades");
  const method = route.method.toUpperCase();
  return (method === "GET" ? ["GET", "HEAD"] : [method]).map((one) => [one, path] as const);
});

const request = (method: string, path: string, headers: Record<string, string> = {}): [string, RequestInit] => [
  path,
  { method, headers: { "Content-Type": "application/json", ...headers }, ...(method === "POST" && { body: "{}" }) },
];

describe("every way in", () => {
  const entries: AccessEntry[] = [];
  const policies = {
    apiKeys: apiKeysFromFile(file, pino({ level: "silent" })),
    rateLimiter: rateLimiter(1_000_000),
    log: (entry: AccessEntry) => entries.push(entry),
  };
  const app = testApp({}, { policies });
  const authorized = { Authorization: `Bearer ${key}` };

  it.each(ways)("%s %s asks for a key, counts points, and is in the log", async (method, path) => {
    expect((await app.request(...request(method, path))).status).toBe(401);
    const { headers } = await app.request(...request(method, path, authorized));
    expect(headers.get("RateLimit")).not.toBeNull();
    expect(headers.get("X-Request-Id")).not.toBeNull();
    expect(entries.at(-1)).toMatchObject({ method, route: path.replace("filter-grades", ":table") });
  });

  it("is closed by too much load, documents and streams included, but not for pages and probes", async () => {
    const full = testApp({}, { policies: { maxConcurrentRequests: 0 } });
    for (const [method, path] of ways) {
      const { status, headers } = await full.request(...request(method, path));
      expect(status, `${method} ${path}`).toBe(503);
      expect(headers.get("Retry-After")).toBe("1");
    }
    for (const path of ["/", "/docs", "/openapi.json", "/healthz", "/readyz"]) {
      expect((await full.request(path)).status, path).toBe(200);
    }
  });

  it("is judged where the method or the path is unknown, too", async () => {
    for (const [method, path] of [
      ["DELETE", "/v1/sun"],
      ["OPTIONS", "/v1/sun"],
      ["QUERY", "/v1/outings/plan"],
      ["GET", "/v1/nothing"],
    ] as const) {
      expect((await app.request(path, { method })).status, `${method} ${path}`).toBe(401);
    }
    const { status, headers } = await app.request("/v1/sun", { method: "DELETE", headers: authorized });
    expect([status, headers.get("Allow")]).toEqual([405, "GET, HEAD"]);
  });
});
