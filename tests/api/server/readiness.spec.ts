import type { Readiness } from "@fieldstop/api/middleware/readiness";
import { readinessCheck } from "@fieldstop/api/server/readiness";
import { connectRedis, type SharedRedis } from "@fieldstop/api/server/redis";
import { WorkerPool } from "@fieldstop/api/workers/worker-pool";
import { pino } from "pino";
import { afterAll, describe, expect, it } from "vitest";
import { freePort } from "../../load/service";
import { testApp } from "../harness";

const demo = new URL("../../../demo/elevation", import.meta.url).pathname;
const nowhere = "/nonexistent/elevation";
const pool = new WorkerPool({ threads: 1 });
const connections: SharedRedis[] = [];
afterAll(async () => {
  for (const redis of connections) redis.disconnect();
  await pool.close();
});

interface Sources {
  readonly elevation?: readonly string[];
  readonly terrainSources?: () => readonly { readonly name: string; readonly state: "ok" | "away" }[];
  readonly pool?: WorkerPool;
  readonly redis?: SharedRedis;
  readonly stopping?: boolean;
}

async function askReady({ stopping = false, ...sources }: Sources): Promise<{ status: number; body: Readiness }> {
  const readiness = readinessCheck({ elevation: [demo], pool, ...sources, stopping: () => stopping });
  const response = await testApp({}, { policies: { readiness } }).request("/readyz");
  expect(response.headers.get("Cache-Control")).toBe("no-store");
  return { status: response.status, body: (await response.json()) as Readiness };
}

describe("/readyz", () => {
  it("is ready with all that the service rests on", async () => {
    const { status, body } = await askReady({});
    expect(status).toBe(200);
    expect(body.status).toBe("ready");
  });

  it("is degraded where Redis is away or a part of the ground, and takes requests still", async () => {
    const redis = connectRedis(`redis://127.0.0.1:${await freePort()}`, pino({ level: "silent" }));
    connections.push(redis);
    const away = await askReady({ redis });
    expect(away.status).toBe(200);
    expect(away.body).toMatchObject({ status: "degraded", checks: { redis: { state: "degraded" } } });
    const partly = await askReady({ elevation: [demo, nowhere] });
    expect(partly.status).toBe(200);
    expect(partly.body).toMatchObject({ status: "degraded", checks: { elevation: { state: "degraded" } } });
    // by number: where the data lie is not for callers to know
    expect(JSON.stringify(partly.body)).not.toContain(nowhere);
  });

  it("names by number the sources that the terrain could not use when it last tried", async () => {
    const told = (...states: readonly ("ok" | "away")[]) => ({
      elevation: states.map(() => demo),
      terrainSources: () => states.map((state, i) => ({ name: `source ${i}`, state })),
    });
    expect((await askReady(told("ok", "ok"))).body.checks["elevation"]).toEqual({ state: "ok" });
    const partly = await askReady(told("ok", "away", "ok"));
    expect(partly.status).toBe(200);
    expect(partly.body.checks["elevation"]).toEqual({ state: "degraded", detail: "cannot be used: source 2 of 3" });
    const none = await askReady(told("away", "away"));
    expect(none.status).toBe(503);
    expect(none.body.checks["elevation"]).toEqual({ state: "down", detail: "cannot be used: source 1, 2 of 2" });
    // one that nobody has asked yet is tried here
    const untried = { elevation: [demo, nowhere], terrainSources: told("ok", "ok").terrainSources };
    expect((await askReady(untried)).body.checks["elevation"]).toMatchObject({ state: "degraded" });
  });

  it("is unready with no ground, no room for work, or a stop under way", async () => {
    const full = new WorkerPool({ threads: 1, queueLimit: 0 });
    const cases: readonly [Sources, string][] = [
      [{ elevation: [nowhere] }, "elevation"],
      [{ pool: full }, "workers"],
      [{ stopping: true }, "process"],
    ];
    for (const [sources, lost] of cases) {
      const { status, body } = await askReady(sources);
      expect(status, lost).toBe(503);
      expect(body).toMatchObject({ status: "unready", checks: { [lost]: { state: "down" } } });
    }
    await full.close();
  });
});
