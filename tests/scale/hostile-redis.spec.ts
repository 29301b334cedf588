import { crc32 } from "node:zlib";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { connectRedis, type SharedRedis } from "@fieldstop/api/server/redis";
import { RedisStore } from "@fieldstop/api/server/redis-store";
import { createTerrain } from "@fieldstop/terrain";
import { pino } from "pino";
import { afterEach, describe, expect, it, vi } from "vitest";
import { FakeRedis, type Says, sane } from "./fake-redis";

// A shared Redis that misbehaves. An exception that nobody catches fails these tests as it would end the process.
const demo = new URL("../../demo/elevation", import.meta.url).pathname;
const opened: { stop(): unknown }[] = [];
afterEach(async () => {
  await Promise.all(opened.splice(0).map((one) => one.stop()));
});

/** A connection to a Redis that behaves so far, and what was logged of it. */
async function connected(): Promise<{ fake: FakeRedis; redis: SharedRedis; told: string[] }> {
  const fake = await FakeRedis.start();
  const told: string[] = [];
  const redis = connectRedis(
    fake.url,
    pino({}, { write: (line) => told.push((JSON.parse(line) as { msg: string }).msg) }),
  );
  opened.push({ stop: () => redis.disconnect() }, fake);
  await expect.poll(() => redis.isAway).toBe(false);
  return { fake, redis, told };
}

/** A Redis that says this to one command. */
const saying = (name: string, reply: ReturnType<Says>): Says => {
  return (command, socket) => (command[0] === name ? reply : sane(command, socket));
};

describe("a Redis that says what nobody asked for", () => {
  it.each([
    ["null", "*-1\r\n"],
    ["arrays in arrays", "*1\r\n".repeat(50_000)],
    ["a state", "+OK\r\n"],
    ["an error", "-ERR what\r\n"],
    ["an endless array", "*4294967295\r\n"],
    ["a push of RESP3", ">2\r\n$10\r\ninvalidate\r\n*-1\r\n"],
    ["another protocol", "HTTP/1.1 400 Bad Request\r\n\r\n"],
  ])("%s: is dropped, left alone and told of once", async (_, text) => {
    const { fake, redis, told } = await connected();
    fake.sayUnasked(text);
    await expect.poll(() => redis.isAway).toBe(true);
    await expect.poll(() => fake.connected).toBe(2);
    const sinceMs = performance.now();
    expect(await new RedisStore(redis, "test:").get("key")).toBeNull();
    expect(performance.now() - sinceMs).toBeLessThan(20);
    expect(told).toEqual(["Redis is away; going on without"]);
  });

  it("is not connected to again and again where it does so each time", async () => {
    const { fake } = await connected();
    fake.says = (command, socket) =>
      command[0] === "info" ? `${sane(command, socket)}*-1\r\n` : sane(command, socket);
    const before = fake.connected;
    fake.sayUnasked("*-1\r\n");
    await new Promise((resolve) => setTimeout(resolve, 2500));
    expect(fake.connected - before).toBeGreaterThan(0);
    expect(fake.connected - before).toBeLessThanOrEqual(3);
  });

  it("is used again after a rest", { timeout: 15_000 }, async () => {
    const { fake, redis, told } = await connected();
    fake.sayUnasked("*-1\r\n");
    await expect.poll(() => redis.isAway).toBe(true);
    await expect
      .poll(
        () =>
          redis.ping().then(
            () => redis.isAway,
            () => true,
          ),
        { timeout: 8000 },
      )
      .toBe(false);
    expect(told).toEqual(["Redis is away; going on without", "Redis is back"]);
  });
});

describe("a Redis that answers with something else", () => {
  it.each([":1\r\n", "*0\r\n", "*1\r\n$1\r\na\r\n"])("%j for a skyline: the skyline is found", async (reply) => {
    const { fake, redis } = await connected();
    fake.says = saying("getex", reply);
    const terrain = await createTerrain({ sources: [demo], horizonStore: new RedisStore(redis, "test:") });
    expect(await terrain.horizonAt({ latitude: 56.6, longitude: -9.4 }, { stepDeg: 5 })).not.toBeNull();
    expect(redis.isAway).toBe(true);
  });

  it.each([
    ["a number", "5"],
    ["null", "null"],
    ["no JSON", "{"],
    ["another shape", JSON.stringify({ key: "KEY", keptAtMs: 0, answer: { profile: {} } })],
    [
      "half a skyline",
      JSON.stringify({
        key: "KEY",
        keptAtMs: 0,
        answer: {
          profile: { azimuthsDeg: [0, 90], altitudesDeg: [1], distancesM: [1, 1] },
          viewpoint: { latitude: 1, longitude: 1, groundElevationM: 1, eyeHeightM: 1.6 },
          skyViewFactor: 1,
          source: { name: "x", resolutionM: 30 },
          missingTiles: [],
          uncertainAzimuthsDeg: [],
          refractionCoefficient: 0.13,
        },
      }),
    ],
  ])("an entry with a good checksum that holds %s: the skyline is found, the entry replaced", async (_, text) => {
    const { fake, redis } = await connected();
    const viewpoint = { latitude: 56.6, longitude: -9.4 };
    const alone = await (await createTerrain({ sources: [demo] })).horizonAt(viewpoint, { stepDeg: 5 });
    const bytes = Buffer.from(text.replace("KEY", alone?.key ?? ""));
    const entry = Buffer.concat([Buffer.from(crc32(bytes).toString(16).padStart(8, "0")), bytes]);
    fake.says = saying("getex", Buffer.concat([Buffer.from(`$${entry.length}\r\n`), entry, Buffer.from("\r\n")]));
    const terrain = await createTerrain({ sources: [demo], horizonStore: new RedisStore(redis, "test:") });
    expect(await terrain.horizonAt(viewpoint, { stepDeg: 5 })).toEqual(alone);
    await expect.poll(() => fake.commands.map(([name]) => name)).toContain("set");
  });

  it.each([
    ":1\r\n",
    "$-1\r\n",
    "*0\r\n",
    "*2\r\n:1\r\n:60000\r\n",
    "*3\r\n$1\r\na\r\n:1\r\n:60000\r\n",
    "*3\r\n+KEY\r\n:-1\r\n:60000\r\n",
    "*3\r\n+KEY\r\n:1\r\n:99999999\r\n",
    "*3\r\n+KEY\r\n$-1\r\n$-1\r\n",
  ])("%j for a limit: it is counted here", async (reply) => {
    const { fake, redis } = await connected();
    fake.says = (command, socket) =>
      command[0] === "eval" ? reply.replace("KEY", command[3] ?? "") : sane(command, socket);
    const limiter = rateLimiter(3, redis);
    expect(await limiter.take("club", 2)).toEqual({ allowed: true, remaining: 1, resetSeconds: 60 });
    expect(await limiter.take("club", 2)).toMatchObject({ allowed: false, remaining: 0 });
    expect(redis.isAway).toBe(true);
  });
});

describe("a Redis that is slow or silent", () => {
  it.each([
    ["answers after 70 ms", 70, sane],
    ["answers after 300 ms", 300, sane],
    ["never answers", 0, () => undefined],
  ] as const)("that %s is left alone after a few requests, and told of once", async (_, delayMs, says) => {
    const { fake, redis, told } = await connected();
    const limiter = rateLimiter(1000, redis);
    fake.says = says;
    fake.delayMs = delayMs;
    const tookMs: number[] = [];
    for (let i = 0; i < 50; i++) {
      const sinceMs = performance.now();
      await limiter.take("club", 1);
      tookMs.push(performance.now() - sinceMs);
    }
    expect(tookMs.filter((ms) => ms > 60).length).toBeLessThanOrEqual(4);
    expect(redis.isAway).toBe(true);
    expect(told).toEqual(["Redis is away; going on without"]);
  });
});

describe("what Redis is told of clients", () => {
  it("is not their address", async () => {
    const { fake, redis } = await connected();
    await rateLimiter(10, redis).take("203.0.113.9", 1);
    const told = JSON.stringify(fake.commands);
    expect(told).toContain("fieldstop:limit:");
    expect(told).not.toContain("203.0.113.9");
  });

  it("leaves those who are over the limit alone until it is over, by a clock that only goes forward", async () => {
    const { fake, redis } = await connected();
    const limiter = rateLimiter(1, redis);
    await limiter.take("club", 2);
    vi.useFakeTimers({ toFake: ["Date"] });
    try {
      vi.setSystemTime(Date.now() - 3_600_000);
      const { allowed, resetSeconds } = await limiter.take("club", 1);
      expect(allowed).toBe(false);
      expect(resetSeconds).toBeLessThanOrEqual(60);
    } finally {
      vi.useRealTimers();
    }
    expect(fake.commands.filter(([name]) => name === "eval")).toHaveLength(1);
  });
});
