import { fileURLToPath } from "node:url";
import { createTerrain, type Terrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { groundAround } from "../../packages/operations/src/ground-around";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));

let terrain: Terrain;
beforeAll(async () => {
  terrain = await createTerrain({ sources: [demo] });
});

const around = (latitude: number, longitude: number) =>
  groundAround({ terrain, timeZoneAt: () => "Etc/UTC", nowMs: () => 0 }, { latitude, longitude });

// The demo island's own shapes, as demo/README.md describes them: a strand, a headland with cliffs, a loch inland
describe("the ground round a spot", () => {
  it("is low and beside the sea on the strand", async () => {
    const ground = await around(56.6, -9.4);
    expect(ground?.seaWithinM).toBeLessThanOrEqual(400);
    expect(ground?.steepestDeg).toBeLessThan(28);
  });

  it("is steep and beside the sea on the headland", async () => {
    const ground = await around(56.6369, -9.4736);
    expect(ground?.seaWithinM).toBeLessThanOrEqual(400);
    expect(ground?.steepestDeg).toBeGreaterThan(28);
    expect(ground?.isFlat).toBe(false);
  });

  it("is away from the sea at the loch", async () => {
    expect((await around(56.5943, -9.3795))?.seaWithinM ?? null).toBeNull();
  });

  it("is not known where no elevation data covers it, or none can be had", async () => {
    expect(await around(10, 20)).toBeUndefined();
    expect(
      await groundAround({ timeZoneAt: () => "Etc/UTC", nowMs: () => 0 }, { latitude: 0, longitude: 0 }),
    ).toBeUndefined();
  });
});
