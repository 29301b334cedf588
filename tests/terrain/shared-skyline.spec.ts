import { fileURLToPath } from "node:url";
import { createTerrain, terrainJobs } from "@fieldstop/terrain";
import { describe, expect, it } from "vitest";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const place = { latitude: 56.6, longitude: -9.4 };

/** Terrain whose scans wait until they are let go, and what became of each. */
async function heldTerrain() {
  const signals: (AbortSignal | undefined)[] = [];
  let letGo: () => void = () => {};
  const gate = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  const terrain = await createTerrain({
    sources: [demo],
    work: {
      ...terrainJobs,
      scanHorizon: async (job, signal) => {
        signals.push(signal);
        await gate;
        return terrainJobs.scanHorizon(job, signal);
      },
    },
  });
  return { terrain, signals, letGo };
}

describe("a cold skyline that two wait for", () => {
  it("is found for the one who stays, and scanned once", async () => {
    const { terrain, signals, letGo } = await heldTerrain();
    const goes = new AbortController();
    const left = terrain.horizonAt(place, { stepDeg: 1, signal: goes.signal });
    const stays = terrain.horizonAt(place, { stepDeg: 1, signal: new AbortController().signal });
    await expect.poll(() => signals.length).toBe(1);
    goes.abort(new Error("gone"));
    await expect(left).rejects.toThrow("gone");
    expect(signals[0]?.aborted).toBe(false);
    letGo();
    expect((await stays)?.profile.altitudesDeg).toHaveLength(360);
    const scans = signals.length;
    expect(await terrain.horizonAt(place, { stepDeg: 1 })).toBe(await stays);
    expect(signals).toHaveLength(scans);
  });

  it("is given up with the last of them, and begun anew for the next", async () => {
    const { terrain, signals, letGo } = await heldTerrain();
    const callers = [new AbortController(), new AbortController()];
    const asked = callers.map(({ signal }) => terrain.horizonAt(place, { stepDeg: 1, signal }));
    await expect.poll(() => signals.length).toBe(1);
    for (const caller of callers) caller.abort(new Error("gone"));
    for (const one of asked) await expect(one).rejects.toThrow("gone");
    expect(signals[0]?.aborted).toBe(true);
    const next = terrain.horizonAt(place, { stepDeg: 1 });
    await expect.poll(() => signals.length).toBe(2);
    letGo();
    expect((await next)?.profile.altitudesDeg).toHaveLength(360);
  });

  it("is not begun for one who has gone already", async () => {
    const { terrain, signals } = await heldTerrain();
    await expect(terrain.horizonAt(place, { signal: AbortSignal.abort(new Error("gone")) })).rejects.toThrow("gone");
    expect(signals).toEqual([]);
  });

  it("does not look for a signal where the skyline is kept", async () => {
    const { terrain, letGo } = await heldTerrain();
    letGo();
    const found = await terrain.horizonAt(place, { stepDeg: 1 });
    const guarded = (stepDeg: number) => ({
      stepDeg,
      get signal(): never {
        throw new Error("looked at");
      },
    });
    expect(await terrain.horizonAt(place, guarded(1))).toBe(found);
    await expect(terrain.horizonAt(place, guarded(2))).rejects.toThrow("looked at");
  });
});
