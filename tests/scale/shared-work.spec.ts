import { type AddressInfo, connect, createServer, type Socket } from "node:net";
import { connectRedis } from "@fieldstop/api/server/redis";
import { RedisStore } from "@fieldstop/api/server/redis-store";
import { sharedJobs } from "@fieldstop/api/workers/shared-jobs";
import { SharedWork } from "@fieldstop/api/workers/shared-work";
import { DomainError } from "@fieldstop/core";
import { alignments } from "@fieldstop/operations";
import { createTerrain, type ScanJob, terrainJobs } from "@fieldstop/terrain";
import { Worker } from "bullmq";
import { Redis } from "ioredis";
import { pino } from "pino";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { lacks, Program } from "../load/programs";

const log = pino({ level: "silent" });
const reason = lacks("redis-server");

describe.skipIf(reason)(`long work shared by replicas${reason ? ` (${reason})` : ""}`, () => {
  let server: Program;
  let redisUrl: string;
  const opened: { close(): Promise<void> }[] = [];
  beforeAll(async () => {
    server = await Program.redis();
    redisUrl = `redis://127.0.0.1:${server.address.port}`;
  });
  afterEach(async () => {
    await Promise.all(opened.splice(0).map((one) => one.close()));
  });
  afterAll(() => server.remove());

  const done: string[] = [];
  /** A replica that notes what it did. */
  function replica(name: string, version: string, doubling = async (n: number) => 2 * n) {
    const double = {
      run: async (n: number) => {
        done.push(`${name} ${n}`);
        await new Promise((resolve) => setTimeout(resolve, 50));
        return doubling(n);
      },
      isInput: (value: unknown) => typeof value === "number",
      isResult: (value: unknown) => typeof value === "number",
    };
    const work = new SharedWork({ redisUrl, version, atOnce: 2, jobs: { double }, log });
    opened.push(work);
    return work;
  }

  it("is done once, however many ask, and by whoever has a thread free", { timeout: 15_000 }, async () => {
    const [one, other] = [replica("one", "a"), replica("other", "a")];
    let tried = 100;
    const doneForBoth = async (): Promise<number> => {
      done.length = 0;
      tried++;
      await Promise.all([one.once("double", tried), other.once("double", tried)]);
      return done.length;
    };
    // both are connected
    await expect.poll(doneForBoth, { timeout: 10_000 }).toBe(1);
    done.length = 0;
    const numbers = [1, 2, 3, 4, 5, 6, 7, 8];
    const asked = numbers.flatMap((n) => [one.once("double", n), other.once("double", n), one.once("double", n)]);
    expect(await Promise.all(asked)).toEqual(numbers.flatMap((n) => [2 * n, 2 * n, 2 * n]));
    expect(done).toHaveLength(numbers.length);
    expect(new Set(done.map((line) => line.split(" ")[0]))).toEqual(new Set(["one", "other"]));
    // and once more for those who come a little later
    expect(await other.once("double", 1)).toBe(2);
    expect(done).toHaveLength(numbers.length);
  });

  it("is waited for where another replica is at it for long, and done here where that one has fallen silent", {
    timeout: 30_000,
  }, async () => {
    const long = async (n: number): Promise<number> => {
      await new Promise((resolve) => setTimeout(resolve, 3500));
      return 2 * n;
    };
    const busy = replica("busy", "k", long);
    await new Promise((resolve) => setTimeout(resolve, 500));
    const first = busy.once("double", 1);
    await new Promise((resolve) => setTimeout(resolve, 300));
    const other = replica("other", "k", long);
    await new Promise((resolve) => setTimeout(resolve, 500));
    done.length = 0;
    expect(await Promise.all([first, other.once("double", 1)])).toEqual([2, 2]);
    expect(done).toEqual([]);
    // takes all jobs and is never heard of again
    const connection = new Redis(redisUrl, { maxRetriesPerRequest: null });
    const silent = new Worker("fieldstop-l", () => new Promise(() => {}), {
      connection,
      concurrency: 100,
      lockDuration: 5000,
      skipLockRenewal: true,
      skipStalledCheck: true,
    });
    await silent.waitUntilReady();
    const alone = replica("alone", "l");
    await new Promise((resolve) => setTimeout(resolve, 500));
    const numbers = [1, 2, 3, 4, 5, 6, 7, 8];
    const sinceMs = performance.now();
    const found = await Promise.all(numbers.map((n) => alone.once("double", n)));
    expect(found).toEqual(numbers.map((n) => 2 * n));
    expect(performance.now() - sinceMs).toBeLessThan(5000);
    await silent.close(true);
    connection.disconnect();
  });

  it("tells a refusal as what it is", async () => {
    const refusing = replica("one", "b", async () => {
      throw new DomainError({ param: "from", given: 1, allowed: "less" });
    });
    await new Promise((resolve) => setTimeout(resolve, 300));
    await expect(refusing.once("double", 1)).rejects.toMatchObject({ name: "DomainError", param: "from" });
  });

  it("is not handed to replicas whose answers may differ", async () => {
    const [one, other] = [replica("one", "c"), replica("other", "d", async (n) => 3 * n)];
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(await Promise.all([one.once("double", 5), other.once("double", 5)])).toEqual([10, 15]);
  });

  it("goes on where Redis goes away in the middle, and without it, and is shared again after", {
    timeout: 30_000,
  }, async () => {
    const one = replica("one", "e", async (n) => {
      await new Promise((resolve) => setTimeout(resolve, 400));
      return 2 * n;
    });
    await new Promise((resolve) => setTimeout(resolve, 300));
    const under = one.once("double", 1);
    await new Promise((resolve) => setTimeout(resolve, 100));
    await server.kill();
    expect(await under).toBe(2);
    const askedAt = performance.now();
    expect(await one.once("double", 2)).toBe(4);
    expect(performance.now() - askedAt).toBeLessThan(1000);
    await server.restart();
    await new Promise((resolve) => setTimeout(resolve, 2500));
    done.length = 0;
    expect(await Promise.all([one.once("double", 3), one.once("double", 3)])).toEqual([6, 6]);
    expect(done).toEqual(["one 3"]);
  });

  it("closes at once where Redis was never there, went away, or goes away while a job is being finished", {
    timeout: 30_000,
  }, async () => {
    const closingMs = async (work: { close(): Promise<void> }) => {
      const since = performance.now();
      await work.close();
      return performance.now() - since;
    };
    const slow = async (n: number) => {
      await new Promise((resolve) => setTimeout(resolve, 600));
      return 2 * n;
    };
    const [idle, busy] = [replica("idle", "g"), replica("busy", "h", slow)];
    await new Promise((resolve) => setTimeout(resolve, 300));
    const under = busy.once("double", 1);
    await new Promise((resolve) => setTimeout(resolve, 100));
    const finishing = closingMs(busy);
    await server.kill();
    try {
      expect(await under).toBe(2);
      expect(await finishing).toBeLessThan(1500);
      const never = replica("never", "i");
      await new Promise((resolve) => setTimeout(resolve, 300));
      for (const work of [idle, never]) expect(await closingMs(work)).toBeLessThan(500);
    } finally {
      await server.restart();
    }
  });

  it("closes at once where Redis falls silent without hanging up", async () => {
    const sockets = new Set<Socket>();
    const between = createServer((near) => {
      const far = connect(server.address);
      for (const socket of [near, far]) sockets.add(socket.on("error", () => {}));
      near.pipe(far).pipe(near);
    });
    await new Promise<void>((resolve) => between.listen(0, "127.0.0.1", resolve));
    const { port } = between.address() as AddressInfo;
    const work = new SharedWork({ redisUrl: `redis://127.0.0.1:${port}`, version: "j", atOnce: 1, jobs: {}, log });
    await new Promise((resolve) => setTimeout(resolve, 500));
    for (const socket of sockets) socket.unpipe().pause();
    await new Promise((resolve) => setTimeout(resolve, 1000));
    const since = performance.now();
    await work.close();
    expect(performance.now() - since).toBeLessThan(600);
    for (const socket of sockets) socket.destroy();
    await new Promise((resolve) => between.close(resolve));
  });

  it("finds a cold skyline once for two replicas that are asked at the same time", async () => {
    const demo = new URL("../../demo/elevation", import.meta.url).pathname;
    const redis = connectRedis(redisUrl, log);
    await new Promise((resolve) => redis.once("ready", resolve));
    let scanned = 0;
    const start = async () => {
      let work: SharedWork<ReturnType<typeof sharedJobs>> | undefined;
      const terrain = await createTerrain({
        sources: [demo],
        horizonStore: new RedisStore(redis, "shared:"),
        elsewhere: async (question) => work?.once("findHorizon", question),
        work: {
          ...terrainJobs,
          scanHorizon: (job: ScanJob) => {
            scanned++;
            return terrainJobs.scanHorizon(job);
          },
        },
      });
      const jobs = sharedJobs(terrain, async (input) => JSON.stringify(alignments(input)));
      work = new SharedWork({ redisUrl, version: terrain.dataVersion, atOnce: 1, jobs, log });
      opened.push(work);
      return terrain;
    };
    const replicas = [await start(), await start()];
    await new Promise((resolve) => setTimeout(resolve, 300));
    const ask = { latitude: 56.6, longitude: -9.4 };
    const found = await Promise.all(replicas.map((terrain) => terrain.horizonAt(ask, { stepDeg: 1 })));
    const scansForOne = scanned;
    const alone = await (
      await createTerrain({
        sources: [demo],
        work: {
          ...terrainJobs,
          scanHorizon: (job) => {
            scanned++;
            return terrainJobs.scanHorizon(job);
          },
        },
      })
    ).horizonAt(ask, { stepDeg: 1 });
    expect(found[0]).toEqual(alone);
    expect(found[1]).toEqual(alone);
    expect(scanned - scansForOne).toBe(scansForOne);
    redis.disconnect();
  });
});
