import { mkdtempSync } from "node:fs";
import { availableParallelism, homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { cacheFolder } from "@fieldstop/api/server/cache-folder";
import { ConfigError, readConfig } from "@fieldstop/api/server/config";
import { nodeServices } from "@fieldstop/api/server/services";
import { unknownVariables } from "@fieldstop/api/server/unknown-variables";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { ServiceProcess } from "../load/service";

describe("readConfig", () => {
  it("has a default for everything", () => {
    const workers = Math.max(1, availableParallelism() - 1);
    expect(readConfig({})).toEqual({
      port: 8787,
      host: "127.0.0.1",
      elevation: [],
      cacheMb: 2048,
      responseCacheMb: 64,
      processes: 1,
      workers,
      rateLimit: 3000,
      corsOrigins: [],
      trustedProxies: 0,
      requestTimeoutSeconds: 30,
      shutdownSeconds: 30,
      maxConnectionsPerAddress: 512,
      maxConcurrentRequests: 1000,
      logLevel: "info",
    });
  });

  it("leaves each process a worker thread at least, and shares out the rest", () => {
    const threads = (processes: number) => readConfig({ FIELDSTOP_PROCESSES: String(processes) }).workers;
    expect(threads(64)).toBe(1);
    expect(2 * threads(2)).toBeLessThanOrEqual(Math.max(2, availableParallelism()));
  });

  it("reads what is set", () => {
    const environment = {
      PORT: "0",
      HOST: "::1",
      FIELDSTOP_ELEVATION: "one, two",
      FIELDSTOP_CACHE_DIR: "/var/cache/fieldstop",
      FIELDSTOP_CACHE_MB: "0",
      FIELDSTOP_PROCESSES: "4",
      FIELDSTOP_WORKERS: "3",
      FIELDSTOP_REDIS_URL: "redis://cache.example:6380/1",
      FIELDSTOP_RESPONSE_CACHE_MB: "0",
      FIELDSTOP_RATE_LIMIT: "off",
      FIELDSTOP_API_KEYS: "/etc/fieldstop/keys",
      FIELDSTOP_CORS_ORIGINS: "https://club.example, http://localhost:3000",
      FIELDSTOP_TRUSTED_PROXIES: "1",
      FIELDSTOP_REQUEST_TIMEOUT_SECONDS: "10",
      FIELDSTOP_SHUTDOWN_SECONDS: "5",
      FIELDSTOP_MAX_CONCURRENT_REQUESTS: "200",
      FIELDSTOP_MAX_CONNECTIONS_PER_ADDRESS: "64",
      FIELDSTOP_OTEL: "on",
      FIELDSTOP_LOG_LEVEL: "warn",
    };
    const elevation = ["one", "two"];
    const cache = { cacheDir: "/var/cache/fieldstop", cacheMb: 0 };
    expect(readConfig(environment)).toEqual({
      port: 0,
      host: "::1",
      elevation,
      ...cache,
      processes: 4,
      workers: 3,
      redisUrl: "redis://cache.example:6380/1",
      responseCacheMb: 0,
      rateLimit: "off",
      apiKeys: "/etc/fieldstop/keys",
      corsOrigins: ["https://club.example", "http://localhost:3000"],
      trustedProxies: 1,
      requestTimeoutSeconds: 10,
      shutdownSeconds: 5,
      maxConnectionsPerAddress: 64,
      maxConcurrentRequests: 200,
      otel: "on",
      logLevel: "warn",
    });
  });

  it.each([
    ["PORT", "eighty"],
    ["PORT", "65536"],
    ["PORT", "-1"],
    ["HOST", ""],
    ["FIELDSTOP_ELEVATION", "one,,two"],
    ["FIELDSTOP_CACHE_DIR", ""],
    ["FIELDSTOP_CACHE_MB", "lots"],
    ["FIELDSTOP_CACHE_MB", "-1"],
    ["FIELDSTOP_WORKERS", "0"],
    ["FIELDSTOP_WORKERS", "65"],
    ["FIELDSTOP_WORKERS", "many"],
    ["FIELDSTOP_WORKERS", "1.5"],
    ["FIELDSTOP_PROCESSES", "0"],
    ["FIELDSTOP_PROCESSES", "all"],
    ["FIELDSTOP_REDIS_URL", "cache.example:6379"],
    ["FIELDSTOP_REDIS_URL", "http://cache.example"],
    ["FIELDSTOP_LOG_LEVEL", "loud"],
    ["FIELDSTOP_RATE_LIMIT", "0"],
    ["FIELDSTOP_RATE_LIMIT", "many"],
    ["FIELDSTOP_API_KEYS", ""],
    ["FIELDSTOP_CORS_ORIGINS", "club.example"],
    ["FIELDSTOP_CORS_ORIGINS", "https://club.example/page"],
    ["FIELDSTOP_TRUSTED_PROXIES", "9"],
    ["FIELDSTOP_REQUEST_TIMEOUT_SECONDS", "0"],
    ["FIELDSTOP_OTEL", "yes"],
    ["FIELDSTOP_WEATHER", "rain"],
    ["FIELDSTOP_WEATHER_URL", "file:///etc"],
    ["FIELDSTOP_WEATHER_CONTACT", "two words"],
  ])("stops at %s=%j with a sentence that names it", (name, value) => {
    expect(() => readConfig({ [name]: value })).toThrow(ConfigError);
    expect(() => readConfig({ [name]: value })).toThrow(new RegExp(`^${name} is "${value}"; it must be `));
  });
});

describe("a variable in the service's name that it does not read", () => {
  it.each([
    ["FIELDSTOP_WORKER", "FIELDSTOP_WORKERS"],
    ["FIELDSTOP_REDISURL", "FIELDSTOP_REDIS_URL"],
    ["FIELDSTOP_API_KEY", "FIELDSTOP_API_KEYS"],
    ["FIELDSTOP_CACHE_MBS", "FIELDSTOP_CACHE_MB"],
    ["fieldstop_elevation", "FIELDSTOP_ELEVATION"],
    ["FIELDSTOP_PORT", "PORT"],
  ])("is named, and the setting that is nearest: %s", (name, nearest) => {
    const [sentence, ...rest] = unknownVariables({ [name]: "s3cret", FIELDSTOP_WORKERS: "2", PORT: "0", HOME: "/" });
    expect(rest).toEqual([]);
    expect(sentence).toBe(`${name} is set, but nothing reads it; the nearest setting is ${nearest}.`);
  });

  it.each(["1", "2"])(
    "comes in a line of the log at the start, once for %s processes",
    {
      timeout: 60_000,
    },
    async (processes) => {
      const service = await ServiceProcess.start({
        FIELDSTOP_PROCESSES: processes,
        FIELDSTOP_LOG_LEVEL: "warn",
        FIELDSTOP_WORKRES: "1",
      });
      await service.stop();
      const told = service.log.split("\n").filter((line) => line.includes("FIELDSTOP_"));
      expect(told.map((line) => JSON.parse(line))).toMatchObject([
        { level: 40, msg: "FIELDSTOP_WORKRES is set, but nothing reads it; the nearest setting is FIELDSTOP_WORKERS." },
      ]);
    },
  );
});

describe("the weather", () => {
  it("comes from a provider that is named, and knows whom to write to", () => {
    const environment = {
      FIELDSTOP_WEATHER: "met-norway",
      FIELDSTOP_WEATHER_URL: "http://127.0.0.1:9000/",
      FIELDSTOP_WEATHER_CONTACT: "ranger@ardvane.example",
    };
    expect(readConfig(environment).weather).toEqual({
      provider: "met-norway",
      baseUrl: "http://127.0.0.1:9000",
      contact: "ranger@ardvane.example",
    });
    expect(readConfig({ FIELDSTOP_WEATHER: "open-meteo" }).weather).toEqual({ provider: "open-meteo" });
    const contactless = () => readConfig({ FIELDSTOP_WEATHER: "met-norway" });
    expect(contactless).toThrow(/^FIELDSTOP_WEATHER_CONTACT is absent; it must be an e-mail address or a web page/);
  });

  it("is none where no provider is named", async () => {
    const services = await nodeServices(readConfig({}), pino({ level: "silent" }));
    expect(services.weather).toBeUndefined();
  });
});

describe("cacheFolder", () => {
  it.each([
    [{ XDG_CACHE_HOME: "/srv/cache" }, "linux", "/srv/cache/fieldstop"],
    [{ XDG_CACHE_HOME: "cache" }, "linux", join(homedir(), ".cache/fieldstop")],
    [{}, "linux", join(homedir(), ".cache/fieldstop")],
    [{}, "darwin", join(homedir(), "Library/Caches/fieldstop")],
  ] as const)("with %j on %s is %s", (environment, platform, folder) => {
    expect(cacheFolder(environment, platform)).toBe(folder);
  });
});

describe("nodeServices", () => {
  const log = pino({ level: "silent" });

  it("stops at an elevation folder that does not exist, naming variable and folder", async () => {
    const missing = join(mkdtempSync(join(tmpdir(), "fieldstop-")), "nowhere");
    const config = readConfig({ FIELDSTOP_ELEVATION: missing });
    await expect(nodeServices(config, log)).rejects.toThrow(/FIELDSTOP_ELEVATION.*nowhere/);
  });

  it("serves the demo island without any setting", async () => {
    const services = await nodeServices(readConfig({}), log);
    expect(await services.terrain?.groundElevationM(56.6, -9.4)).toBeCloseTo(2, 9);
    expect(services.timeZoneAt(38.4, -28.25)).toBe("Atlantic/Azores");
  });
});
