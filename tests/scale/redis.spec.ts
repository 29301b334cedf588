import { connectRedis, type SharedRedis } from "@fieldstop/api/server/redis";
import { RedisStore } from "@fieldstop/api/server/redis-store";
import { createTerrain, type Terrain } from "@fieldstop/terrain";
import { pino } from "pino";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { lacks, Program } from "../load/programs";
import { freePort } from "../load/service";

const demo = new URL("../../demo/elevation", import.meta.url).pathname;
const viewpoint = { latitude: 56.6, longitude: -9.4 };
const log = pino({ level: "silent" });
const reason = lacks("redis-server");

describe.skipIf(reason)(`skylines shared in Redis${reason ? ` (${reason})` : ""}`, () => {
  let server: Program;
  let redis: SharedRedis;
  let scans = 0;
  beforeAll(async () => {
    server = await Program.redis();
    redis = connectRedis(`redis://127.0.0.1:${server.address.port}`, log);
    await new Promise((resolve) => redis.once("ready", resolve));
  });
  afterAll(async () => {
    redis.disconnect();
    await server.remove();
  });

  /** A replica's terrain, its scans counted. */
  async function replica(): Promise<Terrain> {
    const { terrainJobs } = await import("@fieldstop/terrain");
    const work = {
      ...terrainJobs,
      scanHorizon: (job: Parameters<typeof terrainJobs.scanHorizon>[0]) => {
        scans++;
        return terrainJobs.scanHorizon(job);
      },
    };
    return createTerrain({ sources: [demo], horizonStore: new RedisStore(redis, "test:"), work });
  }

  it("are found by one replica and read by the next, to the last bit", async () => {
    const found = await (await replica()).horizonAt(viewpoint);
    await expect.poll(() => redis.dbsize()).toBe(1);
    const before = scans;
    const read = await (await replica()).horizonAt(viewpoint);
    expect(read).toEqual(found);
    expect(scans).toBe(before);
  });

  it("are found anew where Redis holds something else under the key", async () => {
    const [key] = (await redis.keys("test:*")) as [string];
    const whole = (await redis.getBuffer(key)) as Buffer;
    const expected = await (await replica()).horizonAt(viewpoint);
    for (const spoilt of [
      Buffer.alloc(0),
      Buffer.from("null"),
      whole.subarray(0, whole.length - 1),
      Buffer.from(whole.map((byte, i) => (i === whole.length >> 1 ? byte ^ 1 : byte))),
    ]) {
      await redis.set(key, spoilt);
      const before = scans;
      expect(await (await replica()).horizonAt(viewpoint)).toEqual(expected);
      expect(scans).toBeGreaterThan(before);
      await expect.poll(async () => (await redis.getBuffer(key))?.length).toBe(whole.length);
    }
  });

  it("are found without Redis while it is away, at once, and shared again when it is back", async () => {
    await server.kill();
    const askedAt = performance.now();
    expect(await new RedisStore(redis, "test:").get("anything")).toBeNull();
    expect(performance.now() - askedAt).toBeLessThan(150);
    expect(await (await replica()).horizonAt({ latitude: 56.61, longitude: -9.4 })).not.toBeNull();
    await server.restart();
    await expect.poll(() => redis.status, { timeout: 5000 }).toBe("ready");
    await (await replica()).horizonAt({ latitude: 56.62, longitude: -9.4 });
    await expect.poll(() => redis.dbsize()).toBe(1);
  });
});

describe("a Redis that was never there", () => {
  it("keeps nobody waiting", async () => {
    const redis = connectRedis(`redis://127.0.0.1:${await freePort()}`, log);
    const store = new RedisStore(redis, "test:");
    const askedAt = performance.now();
    await store.set("key", new Uint8Array([1]));
    expect(await store.get("key")).toBeNull();
    expect(performance.now() - askedAt).toBeLessThan(300);
    redis.disconnect();
  });
});
