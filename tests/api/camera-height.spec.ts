import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, post, problem, refusedFields, type TestApp, testApp } from "./harness";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const path = "/v1/framing/camera-height";
const place = { latitude: 56.6, longitude: -9.4 };
const ridgeAt3 = {
  kind: "profile",
  points: [
    { azimuthDeg: 0, altitudeDeg: 3 },
    { azimuthDeg: 180, altitudeDeg: 3 },
  ],
};
const boulder = { place, horizon: ridgeAt3, camera: { azimuthDeg: 290 }, things: [{ distanceM: 5, topM: 1.5 }] };

interface Heights {
  readonly things: readonly {
    readonly clears: { readonly kind: string; readonly fromM?: number };
    readonly ridge: { readonly altitudeDeg: number; readonly distanceM: number | null };
    readonly views: readonly {
      readonly heightM: number;
      readonly gapDeg: number;
      readonly per10Cm: { readonly gapPx?: number };
    }[];
  }[];
  readonly open: readonly { readonly fromM: number; readonly toM: number }[];
  readonly horizon: { readonly kind: string; readonly source?: string };
  readonly assumptions: readonly { readonly field: string }[];
  readonly cautions: readonly unknown[];
}

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [demo] }) });
});

describe("POST /v1/framing/camera-height", () => {
  it("says from what height a ridge of one's own clears a boulder", async () => {
    const { things, open, horizon, assumptions, cautions } = await answer<Heights>(post(app, path, boulder));
    const heightM = 1.5 - 5 * Math.tan((3 * Math.PI) / 180);
    expect(things[0]?.clears).toEqual({ kind: "between", fromM: expect.closeTo(heightM, 2), toM: 2 });
    expect(open).toEqual([{ fromM: expect.closeTo(heightM, 2), toM: 2 }]);
    expect(horizon).toEqual({ kind: "profile", source: "given with the request" });
    expect(assumptions.map(({ field }) => field)).toContain("camera.focalLengthMm");
    expect(assumptions.map(({ field }) => field)).toContain("eyeHeightM");
    expect(cautions).toEqual([]);
    expect(things[0]?.views[0]?.per10Cm).not.toHaveProperty("gapPx");
  });

  it("takes the ridge of the demo island, whose distance it knows", async () => {
    const { things, horizon } = await answer<Heights>(post(app, path, { ...boulder, horizon: undefined }));
    expect(horizon.kind).toBe("terrain");
    expect(things[0]?.ridge.altitudeDeg).toBeGreaterThan(0.5);
    expect(things[0]?.ridge.distanceM).toBeGreaterThan(500);
    const touching = things[0]?.views.find(({ heightM }) => heightM === things[0]?.clears.fromM);
    expect(touching?.gapDeg).toBeCloseTo(0, 6);
  });

  it("counts pixels where the sensor says how many it has, along the side that stands up", async () => {
    const pixels = async (orientation: string) => {
      const camera = { azimuthDeg: 290, orientation, sensor: { widthMm: 36, heightMm: 24, widthPx: 6000 } };
      const { things } = await answer<Heights>(post(app, path, { ...boulder, camera }));
      return things[0]?.views[0]?.per10Cm.gapPx;
    };
    // the same pixels, upright or not
    expect(await pixels("portrait")).toBeCloseTo((await pixels("landscape")) as number, 6);
    expect(await pixels("portrait")).toBeGreaterThan(10);
  });

  it.each([
    [{ things: [] }, "/things"],
    [{ things: [{ distanceM: 5 }] }, "/things/0/topM"],
    [{ things: [{ distanceM: 5, topM: 1, undersideM: 2 }] }, "/things/0/undersideM"],
    [{ things: [{ distanceM: "near", topM: 1 }] }, "/things/0/distanceM"],
    [{ things: [{ distanceM: 5, topM: 1, height: 2 }] }, "/things/0/height"],
    [{ camera: {} }, "/things/0/azimuthDeg"],
    [{ camera: { sensor: "postage-stamp" } }, "/camera/sensor"],
    [{ minHeightM: 2, maxHeightM: 1 }, "/maxHeightM"],
    [{ place: undefined }, "/place"],
    [{ tripod: "tall" }, "/tripod"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(post(app, path, { ...boulder, ...bad }))).toContain(pointer);
  });

  it("has no answer where the skyline is nearer than the thing", async () => {
    const points = ridgeAt3.points.map((point) => ({ ...point, distanceM: 4 }));
    const body = { ...boulder, horizon: { kind: "profile", points } };
    const { type, errors } = await problem(post(app, path, body), 422);
    expect(type).toBe("/problems/impossible");
    expect(errors?.[0]?.pointer).toBe("/things/0/distanceM");
  });
});
