import { once } from "node:events";
import { writeFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { AppOptions } from "@fieldstop/api/app";
import { ProblemError } from "@fieldstop/api/problems/problem";
import { readConfig } from "@fieldstop/api/server/config";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { nodeServices } from "@fieldstop/api/server/services";
import type { JobRunner } from "@fieldstop/api/services";
import { type RunOptions, WorkerPool, type WorkerPoolSettings } from "@fieldstop/api/workers/worker-pool";
import { lightWindowsInput } from "@fieldstop/operations";
import { createTerrain, TileError } from "@fieldstop/terrain";
import { getRequestListener } from "@hono/node-server";
import { writeArrayBuffer } from "geotiff";
import { pino } from "pino";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { hgtBytes, temporaryFolder } from "../terrain/made-tiles";
import { answer, get, post, problem, refusedFields, testApp } from "./harness";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const place = { latitude: 56.6, longitude: -9.4 };
const oneYear = {
  place,
  body: "moon",
  target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
  from: "2027-01-01",
  to: "2028-01-01",
} as const;
const twentyYears = { ...oneYear, to: "2046-12-31" };

const pools: WorkerPool[] = [];
function poolOf(settings: Omit<WorkerPoolSettings, "log">, lines: object[] = []): WorkerPool {
  const tell = (line: object) => void lines.push(line);
  const pool = new WorkerPool({ ...settings, log: { warn: tell, error: tell } });
  pools.push(pool);
  return pool;
}
afterAll(() => Promise.all(pools.map((pool) => pool.close())));

const terrainBy = (pool: WorkerPool) => createTerrain({ sources: [demo], work: pool.terrainWork });
const alignmentsBy = (pool: WorkerPool, options: AppOptions = {}) =>
  testApp({ runJob: (name, input, given) => pool.run(name, input, given) }, options);
/** A search as a job of its own. */
const search = (pool: WorkerPool, request: typeof oneYear | typeof twentyYears, options: RunOptions = {}) =>
  pool.run("alignmentsJson", { request: { ...request, timeZone: "UTC" }, assumptions: [] }, options);
const countIn = (found: string): number => (JSON.parse(found) as { alignments: unknown[] }).alignments.length;

/** Level ground of 123.75 m, 10 to 8.8° W. */
function fractionsTiff(): Uint8Array {
  const [width, height] = [361, 301];
  return new Uint8Array(
    writeArrayBuffer(new Float32Array(width * height).fill(123.75), {
      width,
      height,
      ModelPixelScale: [1 / 300, 1 / 300, 0],
      ModelTiepoint: [0, 0, 0, -10, 57, 0],
      GTModelTypeGeoKey: 2,
      GeographicTypeGeoKey: 4326,
      GTRasterTypeGeoKey: 2,
    }),
  );
}

describe("work in threads", () => {
  const pool = poolOf({ threads: 1 });
  // starting from the source takes longer than any test should
  beforeAll(async () => {
    await search(pool, oneYear);
  }, 60_000);

  it("gives the same skyline to the last bit, first view and second", async () => {
    const [inThreads, here] = [await terrainBy(pool), await createTerrain({ sources: [demo] })];
    const viewpoints = [place, { latitude: 56.6123, longitude: -9.3871, eyeHeightM: 30 }];
    for (const viewpoint of viewpoints) {
      const found = await inThreads.horizonAt(viewpoint, { stepDeg: 0.5 });
      expect(found?.profile.altitudesDeg).toHaveLength(720);
      expect(found).toStrictEqual(await here.horizonAt(viewpoint, { stepDeg: 0.5 }));
    }
  });

  it("gives the same ground where tiles have voids and others fill them, and where heights are no whole metres", async () => {
    const [first, second] = [temporaryFolder(), temporaryFolder()];
    const hilly = (row: number, column: number) => 300 + Math.round(200 * Math.sin(row / 90) * Math.cos(column / 70));
    const holed = (row: number, column: number) => (row > 500 && column > 900 ? -32_768 : hilly(row, column));
    writeFileSync(join(first, "N56W010.hgt"), hgtBytes(1201, holed));
    writeFileSync(join(second, "strand.tif"), fractionsTiff());
    const sources = [first, second];
    const viewpoint = { latitude: 56.55, longitude: -9.3 };
    const here = await createTerrain({ sources });
    const inThreads = await createTerrain({ sources, work: pool.terrainWork });
    const found = await inThreads.horizonAt(viewpoint, { stepDeg: 1, radiusKm: 12 });
    expect(found?.uncertainAzimuthsDeg).toEqual([]);
    expect(found).toStrictEqual(await here.horizonAt(viewpoint, { stepDeg: 1, radiusKm: 12 }));
    // in the hole the second source's ground shows, rounded as the first's heights are
    const inTheHole = await inThreads.groundElevationM(56.5, -9.1);
    expect(inTheHole).toBe(await here.groundElevationM(56.5, -9.1));
    expect(inTheHole).toBe(124);
    expect(await inThreads.groundElevationM(56.5, -8.9)).toBeCloseTo(123.75, 4);
  });

  it("gives the same alignments to the last bit", async () => {
    const found = await answer(post(alignmentsBy(pool), "/v1/alignments", oneYear));
    expect(found).toStrictEqual(await answer(post(testApp(), "/v1/alignments", oneYear)));
  });

  it("names the field that is refused", async () => {
    const refused = post(alignmentsBy(pool), "/v1/alignments", { ...oneYear, to: "2060-01-01" });
    expect(await refusedFields(refused, 422)).toEqual(["/to"]);
    const terrain = await terrainBy(pool);
    expect(await refusedFields(get(testApp({ terrain }), "/v1/horizon", { ...place, eyeHeightM: 0.1 }))).toEqual([
      "query:eyeHeightM",
    ]);
  });

  it("names the tile that cannot be read", async () => {
    const path = `${demo}/N00E000.hgt`;
    const error = await pool
      .run("readTile", { recipe: { kind: "hgt", name: "N00E000.hgt", from: { path } } })
      .catch((caught) => caught);
    expect(error).toBeInstanceOf(TileError);
    expect(error).toMatchObject({ file: "N00E000.hgt", reason: "the file cannot be read (ENOENT)" });
  });

  it("leaves heights where they are, in memory that all threads share", async () => {
    const from = { path: `${demo}/N56W010.hgt.zip` };
    const read = await pool.run("readTile", { recipe: { kind: "hgt", name: "N56W010.hgt.zip", from } });
    if (read.kind !== "grid") throw new Error("a small tile comes whole");
    const { grid } = read;
    expect(grid.samples.buffer).toBeInstanceOf(SharedArrayBuffer);
    expect(grid.pyramid?.maxima.buffer).toBeInstanceOf(SharedArrayBuffer);
  });

  it("answers others while it lasts", async () => {
    const app = alignmentsBy(pool);
    let lasts = true;
    const searches = [1, 2, 3].map(() => answer(post(app, "/v1/alignments", twentyYears)));
    const all = Promise.all(searches).finally(() => {
      lasts = false;
    });
    let answeredMeanwhile = 0;
    while (lasts) {
      expect((await get(app, "/healthz")).status).toBe(200);
      // a turn of the event loop, in which a result could arrive
      await new Promise((resolve) => setTimeout(resolve, 5));
      if (lasts) answeredMeanwhile++;
    }
    await all;
    expect(answeredMeanwhile).toBeGreaterThan(10);
  });

  it("answers others while a cold skyline is scanned", async () => {
    const app = testApp({ terrain: await terrainBy(pool) });
    let lasts = true;
    const cold = [56.58, 56.59, 56.6, 56.61].map((latitude) =>
      answer(get(app, "/v1/horizon", { ...place, latitude, stepDeg: 0.05 })),
    );
    const all = Promise.all(cold).finally(() => {
      lasts = false;
    });
    let answeredMeanwhile = 0;
    while (lasts) {
      expect((await get(app, "/healthz")).status).toBe(200);
      await new Promise((resolve) => setTimeout(resolve, 2));
      if (lasts) answeredMeanwhile++;
    }
    await all;
    expect(answeredMeanwhile).toBeGreaterThan(5);
  });
});

describe("more work than can wait", () => {
  it("is refused with the time to ask again, and what was taken is done", async () => {
    const pool = poolOf({ threads: 1, queueLimit: 2 });
    const app = alignmentsBy(pool);
    // one at work, two waiting
    await answer(post(app, "/v1/alignments", oneYear));
    const taken = [1, 2, 3].map(() => post(app, "/v1/alignments", twentyYears));
    await expect.poll(() => pool.waiting, { interval: 1 }).toBe(2);
    const refused = await post(app, "/v1/alignments", twentyYears);
    expect(refused.headers.get("Retry-After")).toMatch(/^[1-9]\d*$/);
    expect((await problem(refused, 503)).type).toBe("/problems/unavailable");
    for (const one of taken) await answer(one);
    await answer(post(app, "/v1/alignments", oneYear));
  }, 60_000);

  it("is not refused in the middle", async () => {
    const pool = poolOf({ threads: 1, queueLimit: 1 });
    const taken = [search(pool, twentyYears), search(pool, twentyYears)];
    taken.push(search(pool, twentyYears, { continues: true }));
    expect(await Promise.all(taken)).toHaveLength(3);
  }, 60_000);
});

describe("work of several clients", () => {
  it("is done in turn, however much one asks for", async () => {
    const pool = poolOf({ threads: 1 });
    await search(pool, oneYear);
    const clientOf = ({ headers }: Request) => headers.get("x-test-client") ?? "";
    const app = alignmentsBy(pool, { policies: { rateLimiter: rateLimiter(1000), clientOf } });
    const order: string[] = [];
    const ask = async (client: string) => {
      const headers = { "Content-Type": "application/json", "x-test-client": client };
      const asked = await app.request("/v1/alignments", { method: "POST", headers, body: JSON.stringify(oneYear) });
      expect(asked.status).toBe(200);
      order.push(client);
    };
    await Promise.all(["greedy", "greedy", "greedy", "greedy", "greedy", "greedy", "quiet", "quiet"].map(ask));
    // each behind the one at work, and one more
    expect(order.indexOf("quiet")).toBeLessThanOrEqual(2);
    expect(order.lastIndexOf("quiet")).toBeLessThanOrEqual(4);
  }, 60_000);

  it("leaves its place when it is given up", async () => {
    const pool = poolOf({ threads: 1 });
    const giveUp = new AbortController();
    const taken = [
      search(pool, oneYear, { client: "one" }),
      search(pool, oneYear, { client: "one", signal: giveUp.signal }),
    ];
    const other = search(pool, oneYear, { client: "other" });
    expect(pool.waiting).toBe(2);
    giveUp.abort(new Error("not wanted"));
    await expect(taken[1]).rejects.toThrow("not wanted");
    expect(pool.waiting).toBe(1);
    expect(countIn(await other)).toBe(countIn(await (taken[0] as Promise<string>)));
    expect(pool.waiting).toBe(0);
  }, 60_000);
});

describe("work that nobody waits for any more", () => {
  /** One at work and three waiting, and how they end. */
  const threeWaiting = async (pool: WorkerPool, ask: () => Promise<Response>) => {
    const asked = [1, 2, 3, 4].map(ask);
    await expect.poll(() => pool.waiting, { interval: 1 }).toBe(3);
    return asked;
  };

  it("is given up at the deadline, queued or begun, and its thread goes to the next", async () => {
    const lines: object[] = [];
    const pool = poolOf({ threads: 1 }, lines);
    await search(pool, oneYear);
    const [before] = pool.threads;
    const app = alignmentsBy(pool, { policies: { deadlineMs: 100 } });
    const asked = await threeWaiting(pool, () => post(app, "/v1/alignments", twentyYears));
    for (const one of asked) await problem(one, 503);
    await expect.poll(() => pool.waiting).toBe(0);
    expect(pool.threads).not.toContain(before);
    await answer(post(alignmentsBy(pool), "/v1/alignments", oneYear));
    expect(lines).toEqual([]);
  }, 60_000);

  it("is given up when the caller hangs up", async () => {
    const pool = poolOf({ threads: 1 });
    await search(pool, oneYear);
    const server = createServer(getRequestListener(alignmentsBy(pool).fetch)).listen(0, "127.0.0.1");
    await once(server, "listening");
    const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/v1/alignments`;
    const hangUp = new AbortController();
    const init = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(twentyYears) };
    const asked = await threeWaiting(pool, () => fetch(url, { ...init, signal: hangUp.signal }));
    hangUp.abort();
    for (const one of asked) await expect(one).rejects.toThrow("aborted");
    await expect.poll(() => pool.waiting, { timeout: 200, interval: 1 }).toBe(0);
    const next = await fetch(url, { ...init, body: JSON.stringify(oneYear) });
    expect(next.status).toBe(200);
    await next.arrayBuffer();
    server.close();
  }, 60_000);
});

describe("a worker that is killed", () => {
  it("takes no answer with it, and is replaced", async () => {
    const lines: object[] = [];
    const pool = poolOf({ threads: 1 }, lines);
    const app = alignmentsBy(pool);
    await answer(post(app, "/v1/alignments", oneYear));
    const searches = [1, 2, 3].map(() => post(app, "/v1/alignments", twentyYears));
    await expect.poll(() => pool.waiting, { interval: 1 }).toBe(2);
    const [victim] = pool.threads;
    await victim?.terminate();
    for (const search of searches) await answer(search);
    expect(lines).toEqual([expect.objectContaining({ job: "alignmentsJson" })]);
    expect(pool.threads).toHaveLength(1);
    expect(pool.threads[0]).not.toBe(victim);
  }, 60_000);

  it("takes its own request alone with it, when the next one dies of that too", async () => {
    const lines: object[] = [];
    const pool = poolOf({ threads: 1 }, lines);
    await search(pool, oneYear);
    const doomed = search(pool, twentyYears).catch((error) => error);
    await pool.threads[0]?.terminate();
    await expect.poll(() => pool.threads.length).toBe(1);
    const second = pool.threads[0];
    await once(second as NonNullable<typeof second>, "message");
    await second?.terminate();
    expect(lines).toEqual([expect.objectContaining({ job: "alignmentsJson" })]);
    expect(await doomed).toBeInstanceOf(Error);
    expect(await doomed).not.toBeInstanceOf(ProblemError);
    expect(countIn(await search(pool, twentyYears))).toBeGreaterThan(100);
  }, 60_000);
});

describe("a worker that spins", () => {
  it("is ended at the deadline and replaced, while another does what else is asked", async () => {
    const lines: object[] = [];
    const pool = poolOf({ threads: 2 }, lines);
    await Promise.all([search(pool, oneYear), search(pool, oneYear)]);
    const before = pool.threads;
    // days without end, for all that a caller would wait
    const input = await lightWindowsInput({ timeZoneAt: () => "UTC", nowMs: () => 0 }, { place });
    const endless = { input, dates: Array<string>(2_000_000).fill("2027-03-20"), lang: undefined };
    const spinning: JobRunner = (_name, _input, given) => pool.run("lightCalendar", endless, given) as never;
    const asked = post(testApp({ runJob: spinning }, { policies: { deadlineMs: 1200 } }), "/v1/alignments", oneYear);
    await answer(post(alignmentsBy(pool), "/v1/alignments", oneYear));
    expect(pool.threads).toEqual(before);
    await problem(asked, 503);
    expect(lines).toEqual([expect.objectContaining({ job: "lightCalendar" })]);
    expect(pool.threads).toHaveLength(2);
    expect(pool.threads.filter((thread) => before.includes(thread))).toHaveLength(1);
    // both do work again
    const next = [1, 2, 3, 4].map(() => post(alignmentsBy(pool), "/v1/alignments", oneYear));
    for (const one of next) await answer(one);
  }, 60_000);
});

describe("stopping", () => {
  it("finishes what was taken, and takes nothing more", async () => {
    const pool = poolOf({ threads: 1 });
    const taken = [1, 2, 3].map(() => search(pool, twentyYears));
    const closed = pool.close();
    await expect(search(pool, twentyYears)).rejects.toBeInstanceOf(ProblemError);
    await closed;
    expect(pool.threads).toHaveLength(0);
    for (const one of taken) expect(countIn(await one)).toBeGreaterThan(100);
  }, 60_000);
});

describe("the service", () => {
  it("scans in as many threads as it is told", async () => {
    const config = readConfig({ FIELDSTOP_WORKERS: "2", FIELDSTOP_CACHE_MB: "0" });
    const services = await nodeServices(config, pino({ level: "silent" }));
    const { profile, missingTiles } = (await services.terrain?.horizonAt(place)) ?? {};
    expect(profile?.altitudesDeg.length).toBeGreaterThan(1440);
    // beyond the demo's nine tiles; none of them could not be read
    expect(missingTiles?.map(({ reason }) => reason)).toEqual(Array(5).fill("absent"));
    await services.close();
    const found = services.runJob?.(
      "alignmentsJson",
      { request: { ...oneYear, timeZone: "UTC" }, assumptions: [] },
      {},
    );
    await expect(found).rejects.toBeInstanceOf(ProblemError);
  }, 60_000);
});
