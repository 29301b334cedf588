import { createTerrain, terrainJobs } from "@fieldstop/terrain";
import { describe, expect, it, vi } from "vitest";
import { folderWith, hillyTile } from "../made-tiles";

const hills = hillyTile();
const ARDVANE = { latitude: 56.98, longitude: -9.4 };
const NEARBY = { ...ARDVANE, longitude: -9.45 };
const WITHIN = { radiusKm: 30 };

describe("scans of a skyline", () => {
  const folder = folderWith({ "N56W010.hgt": hills, "N57W010.hgt": hills });
  const started = async () => {
    const scanHorizon = vi.fn(terrainJobs.scanHorizon);
    const terrain = await createTerrain({ sources: [folder], work: { ...terrainJobs, scanHorizon } });
    return { terrain, scanHorizon };
  };

  it("are several while tiles are still to be had, and one where all are at hand, for the same answer", async () => {
    const cold = await started();
    const found = await cold.terrain.horizonAt(ARDVANE, WITHIN);
    expect(cold.scanHorizon.mock.calls.length).toBeGreaterThan(1);
    const warm = await started();
    await warm.terrain.horizonAt(NEARBY, WITHIN);
    warm.scanHorizon.mockClear();
    expect(await warm.terrain.horizonAt(ARDVANE, WITHIN)).toStrictEqual(found);
    expect(warm.scanHorizon).toHaveBeenCalledTimes(1);
    expect(found?.profile.azimuthsDeg.length).toBeGreaterThan(1440);
  });
});
