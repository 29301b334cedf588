import { mkdtempSync, writeFileSync } from "node:fs";
import type { Server } from "node:http";
import { type AddressInfo, connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { isNormalPath } from "@fieldstop/api/middleware/normal-path";
import { apiKeysFromFile, newApiKey } from "@fieldstop/api/server/api-keys";
import { httpServer } from "@fieldstop/api/server/http-server";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import fc from "fast-check";
import { pino } from "pino";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const PATHS = ["/v1/sun", "/v1/light-windows", "/v1/light-windows.svg", "/v1/reference/filter-grades", "/v1/forecast"];
const QUERY = "?latitude=56.6&longitude=-9.4";

/** A character as itself, or in one of the ways in which it can be hidden. */
const hidden = (character: string) => {
  const code = character.charCodeAt(0).toString(16).padStart(2, "0");
  return fc.constantFrom(character, `%${code}`, `%${code.toUpperCase()}`, `%25${code}`, character.toUpperCase());
};

/** A path of the service, written in another way: escapes, case, empty and dot segments, matrix parameters, backslashes, absolute targets. */
const disguised = fc.constantFrom(...PATHS).chain((path) =>
  fc.oneof(
    fc.tuple(...[...path.slice(1)].map(hidden)).map((characters) => `/${characters.join("")}`),
    fc.constantFrom(
      `/${path}`,
      path.replace("/v1/", "/v1//"),
      path.replace("/v1/", "/./v1/"),
      path.replace("/v1/", "/v1/../v1/"),
      path.replace("/v1/", "/v1/%2e%2e/v1/"),
      path.replace("/v1/", "/docs/../v1/"),
      path.replace("/v1/", "/v1;a=b/"),
      path.replace("/v1/", "\\v1\\"),
      path.replace("/v1/", "/v1%2f"),
      `${path}/`,
      `${path};x`,
      `${path}%00`,
      `${path}%0d%0a`,
      `${path}#fragment`,
      `http://elsewhere.example${path}`,
      `http://user@elsewhere.example${path.replace("v1", "%76%31")}`,
      path.slice(1),
    ),
  ),
);

describe("a path", () => {
  it.each(["/", "/v1/sun", "/v1/horizon.svg", "/docs", "/problems/not-found", "/v1/reference/light-by-sun-altitude"])(
    "is normal as %s",
    (path) => expect(isNormalPath(path)).toBe(true),
  );

  it.each([
    "",
    "v1",
    "//",
    "/v1/",
    "/v1//sun",
    "/%76%31/sun",
    "/./v1",
    "/v1/..",
    "/v1/../v1/sun",
    "/v1;a/sun",
    "/a b",
    "/ä",
    `/${"x".repeat(200)}`,
  ])("is not normal as %j", (path) => expect(isNormalPath(path)).toBe(false));
});

describe("a path in another form", () => {
  let server: Server;
  let port: number;
  const file = join(mkdtempSync(join(tmpdir(), "fieldstop-")), "keys");
  const { key, line } = newApiKey("club");
  writeFileSync(file, `${line}\n`);
  beforeAll(async () => {
    const policies = { apiKeys: apiKeysFromFile(file, pino({ level: "silent" })), rateLimiter: rateLimiter(1_000_000) };
    server = httpServer(testApp({}, { policies }), { host: "127.0.0.1", maxConnectionsPerAddress: 1000 });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    port = (server.address() as AddressInfo).port;
  });
  afterAll(() => {
    server.closeAllConnections();
    server.close();
  });

  const statusOf = (method: string, target: string, field = ""): Promise<number> =>
    new Promise((resolve, reject) => {
      const socket = connect(port, "127.0.0.1", () => {
        socket.write(`${method} ${target} HTTP/1.1\r\nHost: localhost\r\n${field}Connection: close\r\n\r\n`);
      });
      let text = "";
      socket.on("data", (chunk) => {
        text += chunk.toString("latin1");
      });
      socket.on("end", () => resolve(Number(/^HTTP\/1\.1 (\d{3})/.exec(text)?.[1])));
      socket.on("error", reject);
    });

  it("is never answered without a key, whatever the method", async () => {
    await fc.assert(
      fc.asyncProperty(disguised, fc.constantFrom("GET", "HEAD", "OPTIONS", "POST"), async (path, method) => {
        expect([400, 401, 404, 405], `${method} ${path}`).toContain(await statusOf(method, path + QUERY));
      }),
      { numRuns: 400 },
    );
  });

  it("is 404 with a key too, unless it is the path itself", async () => {
    const field = `Authorization: Bearer ${key}\r\n`;
    expect(await statusOf("GET", `/v1/sun${QUERY}`, field)).toBe(200);
    expect(await statusOf("GET", `http://localhost:${port}/v1/sun${QUERY}`, field)).toBe(200);
    for (const path of [
      "/%76%31/sun",
      "/%761/sun",
      "/v%31/sun",
      "/v1//sun",
      "/v1/./sun",
      "/docs/../v1/sun",
      "/v1/sun/",
    ]) {
      expect(await statusOf("GET", path + QUERY, field), path).toBe(404);
    }
  });

  it("is refused before limits and keys are asked", async () => {
    const { headers } = await testApp({}, { policies: { rateLimiter: rateLimiter(5) } }).request("/%76%31/sun");
    expect(headers.get("RateLimit")).toBeNull();
    expect(headers.get("Content-Security-Policy")).toContain("default-src 'none'");
    await problem(testApp().request("/%76%31/sun"), 404);
  });
});
