import { createHash } from "node:crypto";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { apiKeysFromFile, newApiKey } from "@fieldstop/api/server/api-keys";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const SUN = "/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T18:00:00Z";
const log = pino({ level: "silent" });

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
