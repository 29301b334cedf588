import { once } from "node:events";
import { type AddressInfo, connect, createServer, type Socket } from "node:net";
import type { Readiness } from "@fieldstop/api/middleware/readiness";
import { Queue } from "bullmq";
import { Redis } from "ioredis";
import { afterEach, describe, expect, it } from "vitest";
import { lacks, Program } from "../load/programs";
import { ServiceProcess } from "../load/service";
import { FakeRedis, type Says, sane } from "./fake-redis";

// The service as a process of its own, on a shared Redis that misbehaves.
const reason = lacks("redis-server");
const opened: { stop(): unknown }[] = [];
afterEach(async () => {
  for (const one of opened.splice(0).reverse()) await one.stop();
});

async function serviceOn(redisUrl: string): Promise<ServiceProcess> {
  const service = await ServiceProcess.start({
    FIELDSTOP_REDIS_URL: redisUrl,
    FIELDSTOP_RATE_LIMIT: "100000",
    FIELDSTOP_LOG_LEVEL: "warn",
    FIELDSTOP_WORKERS: "1",
  });
  opened.push({ stop: () => service.stop("SIGKILL") });
  return service;
}

async function serviceOnFake(): Promise<{ service: ServiceProcess; fake: FakeRedis }> {
  const fake = await FakeRedis.start();
  opened.push(fake);
  const service = await serviceOn(fake.url);
  await expect.poll(() => redisIn(service)).toBe("ok");
  return { service, fake };
}

async function redisIn({ baseUrl }: ServiceProcess): Promise<string | undefined> {
  const { checks } = (await (await fetch(`${baseUrl}/readyz`)).json()) as Readiness;
  return checks["redis"]?.state;
}

let place = 0;
/** Asks for a skyline that nobody has asked for, and tells how long it took [ms]. */
async function askCold({ baseUrl }: ServiceProcess): Promise<number> {
  const sinceMs = performance.now();
  const longitude = (-9.4 + ++place / 10_000).toFixed(4);
  const response = await fetch(`${baseUrl}/v1/horizon?latitude=56.6&longitude=${longitude}&stepDeg=5`);
  await response.arrayBuffer();
  expect(response.status).toBe(200);
  return performance.now() - sinceMs;
}

/** Asks for what is computed at once, and tells how long it took [ms]. */
async function askSun({ baseUrl }: ServiceProcess): Promise<number> {
  const sinceMs = performance.now();
  const instant = new Date(Date.UTC(2027, 0, 1, 0, ++place)).toISOString();
  const response = await fetch(`${baseUrl}/v1/sun?latitude=56.6&longitude=-9.4&instant=${instant}`);
  await response.arrayBuffer();
  expect(response.status).toBe(200);
  return performance.now() - sinceMs;
}

/** Sends the process away, and tells how long it took [ms]. */
async function stopMs(service: ServiceProcess): Promise<number> {
  const sinceMs = performance.now();
  expect(await service.stop()).toBe(0);
  return performance.now() - sinceMs;
}

describe("the service on a Redis that misbehaves", () => {
  it("goes on where it says what nobody asked for", { timeout: 60_000 }, async () => {
    const { service, fake } = await serviceOnFake();
    for (const text of ["*-1\r\n", "*1\r\n".repeat(50_000), ":1\r\n", ">1\r\n+a\r\n", "$99999999999\r\n", "\0\0\0\0"]) {
      fake.sayUnasked(text);
      await expect.poll(() => redisIn(service)).toBe("degraded");
      await askCold(service);
    }
    expect(service.alive).toBe(true);
    // once for each time, and where it is not back meanwhile once for all
    const told = service.log.match(/Redis is away/g)?.length;
    expect(told).toBeGreaterThanOrEqual(1);
    expect(told).toBeLessThanOrEqual(6);
  });

  it("goes on where every answer is something else, and says so", { timeout: 60_000 }, async () => {
    const { service, fake } = await serviceOnFake();
    fake.says = (command, socket) =>
      ["getex", "eval"].includes(command[0] as string) ? ":1\r\n" : sane(command, socket);
    for (let i = 0; i < 5; i++) await askCold(service);
    expect(await redisIn(service)).toBe("degraded");
  });

  it.each<readonly [string, number, Says]>([
    ["is slow", 150, sane],
    ["is silent", 0, () => undefined],
  ])("answers as fast as alone where Redis %s, and stops at once", { timeout: 60_000 }, async (_, delayMs, says) => {
    const { service, fake } = await serviceOnFake();
    fake.delayMs = delayMs;
    fake.says = says;
    const tookMs: number[] = [];
    for (let i = 0; i < 100; i++) tookMs.push(await askSun(service));
    expect(tookMs.sort((a, b) => a - b)[50]).toBeLessThan(50);
    expect(await redisIn(service)).toBe("degraded");
    expect(await stopMs(service)).toBeLessThan(1000);
    expect(service.log.match(/Redis is away/g)).toHaveLength(1);
  });
});

describe.skipIf(reason)(`the service on a real Redis${reason ? ` (${reason})` : ""}`, () => {
  async function realRedis(): Promise<Program> {
    const redis = await Program.redis();
    opened.push({ stop: () => redis.remove() });
    return redis;
  }

  it("answers in time where bytes of its replies are changed on the way", { timeout: 120_000 }, async () => {
    const { address } = await realRedis();
    const sockets = new Set<Socket>();
    let seed = 1;
    const random = (): number => {
      seed = (seed * 48_271) % 2_147_483_647;
      return seed / 2_147_483_647;
    };
    let flipping = false;
    const between = createServer((near) => {
      const far = connect(address);
      for (const socket of [near, far]) sockets.add(socket.on("error", () => {}));
      near.on("close", () => far.destroy()).pipe(far);
      far
        .on("close", () => near.destroy())
        .on("data", (chunk: Buffer) => {
          if (flipping && random() < 0.2) {
            const at = Math.floor(random() * chunk.length);
            chunk[at] = (chunk[at] as number) ^ (1 << Math.floor(8 * random()));
          }
          near.write(chunk);
        });
    });
    await once(between.listen(0, "127.0.0.1"), "listening");
    opened.push({
      stop: () => {
        for (const socket of sockets) socket.destroy();
        between.close();
      },
    });
    const service = await serviceOn(`redis://127.0.0.1:${(between.address() as AddressInfo).port}`);
    await expect.poll(() => redisIn(service)).toBe("ok");
    await askCold(service);
    flipping = true;
    const tookMs: number[] = [];
    for (let i = 0; i < 60; i++) tookMs.push(await askCold(service));
    expect(Math.max(...tookMs)).toBeLessThan(5000);
    expect(tookMs.filter((ms) => ms > 2000).length).toBeLessThanOrEqual(6);
    expect(service.alive).toBe(true);
    flipping = false;
    expect(await stopMs(service)).toBeLessThan(2000);
  });

  it("goes on where others put jobs into the queue that are none", { timeout: 60_000 }, async () => {
    const { address } = await realRedis();
    const service = await serviceOn(`redis://127.0.0.1:${address.port}`);
    await askCold(service);
    const connection = new Redis(address.port, address.host, { maxRetriesPerRequest: null });
    const name = (await connection.keys("bull:*:meta"))[0]?.split(":")[1] as string;
    const queue = new Queue(name, { connection, skipVersionCheck: true });
    opened.push({ stop: () => queue.close().then(() => connection.disconnect()) });
    const far = { latitude: 56.6, longitude: -9.4, eyeHeightM: 1.6, stepDeg: 1e-9, refined: false, radiusKm: 1e12 };
    const hostile: readonly (readonly [string, unknown])[] = [
      ["findHorizon", null],
      ["findHorizon", { latitude: {}, longitude: [] }],
      ["findHorizon", far],
      ["alignmentsJson", { profile: { azimuthsDeg: "x" } }],
      ["alignmentsJson", "x".repeat(1_000_000)],
      ["__proto__", {}],
      ["toString", {}],
      ["constructor", { prototype: 1 }],
    ];
    for (const [job, data] of hostile) await queue.add(job, data, { removeOnFail: false, removeOnComplete: false });
    await expect.poll(() => queue.getFailedCount(), { timeout: 10_000 }).toBe(hostile.length);
    // the ways of the queue itself
    await connection.hset(`bull:${name}:junk`, { name: "findHorizon", data: "{", opts: "[", timestamp: "x" });
    await connection.lpush(`bull:${name}:wait`, "junk", "missing");
    await connection.zadd(`bull:${name}:marker`, 0, "0");
    for (let i = 0; i < 5; i++) expect(await askCold(service)).toBeLessThan(5000);
    expect(service.alive).toBe(true);
    expect(await stopMs(service)).toBeLessThan(2000);
  });
});
