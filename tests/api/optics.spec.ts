import { describe, expect, it } from "vitest";
import { answer, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();
const to = (path: string) => (body: unknown) => post(app, path, body);
const lens = { sensor: "full-frame", focalLengthMm: 24, aperture: 8, circleOfConfusionMm: 0.03 };

describe("POST /v1/optics/depth-of-field", () => {
  const depth = to("/v1/optics/depth-of-field");

  it("answers limits, hyperfocal distance and advice", async () => {
    expect(await answer(depth({ ...lens, focusDistanceM: 1.5 }))).toMatchObject({
      hyperfocalM: 2.424,
      nearM: expect.closeTo(0.929, 3),
      far: { kind: "distance", distanceM: expect.closeTo(3.896, 3) },
      depthM: expect.closeTo(2.967, 3),
      aperture: { exact: 8, nominal: "f/8" },
      advice: [{ code: "infinity-is-soft" }, { code: "focus-at-hyperfocal" }],
      assumptions: [],
    });
  });

  it("answers the published example of the hyperfocal distance", async () => {
    const fifty = { sensor: "full-frame", focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03 };
    const { hyperfocalM } = await answer<{ hyperfocalM: number }>(depth(fifty));
    expect(Math.round(hyperfocalM * 1000)).toBe(10_467);
  });

  it("says infinity in so many words", async () => {
    expect(await answer(depth({ ...lens, focusDistanceM: "infinity" }))).toMatchObject({
      focusDistanceM: "infinity",
      far: { kind: "infinity", distanceM: null },
      depthM: null,
    });
    expect(await answer(depth({ ...lens, focusDistanceM: 3 }))).toMatchObject({ far: { kind: "infinity" } });
  });

  it("says what it takes to have sharp what should be", async () => {
    const wanted = { ...lens, focusDistanceM: 1.5, wantedNearM: 0.9, wantedFarM: "infinity" };
    expect(await answer(depth(wanted))).toMatchObject({
      forWanted: { kind: "stop-down", focusDistanceM: 1.8, aperture: { nominal: "f/11" } },
    });
  });

  it("derives the circle of confusion from sensor or print, and says so", async () => {
    const { circleOfConfusionMm: _, ...bare } = lens;
    const usual = await answer<{ circleOfConfusionMm: number; assumptions: { field: string }[] }>(depth(bare));
    expect(usual.circleOfConfusionMm).toBeCloseTo(0.02884, 5);
    expect(usual.assumptions.map(({ field }) => field)).toEqual(["circleOfConfusionMm", "focusDistanceM"]);
    const print = { longSideMm: 360, viewingDistanceMm: 500 };
    expect(await answer(depth({ ...bare, print }))).toMatchObject({ circleOfConfusionMm: 0.04 });
  });

  it("takes a sensor by its own measures, and then knows its pixels", async () => {
    const sensor = { widthMm: 36, heightMm: 24, widthPx: 6000 };
    expect(await answer(depth({ ...lens, sensor }))).toMatchObject({
      diffraction: { apertureAtTwoPixels: expect.closeTo(8.94, 2) },
    });
  });

  it.each([
    [{ ...lens, aperture: 0 }, "/aperture"],
    [{ ...lens, aperture: "f/8" }, "/aperture"],
    [{ ...lens, focalLengthMm: 0 }, "/focalLengthMm"],
    [{ ...lens, sensor: undefined }, "/sensor"],
    [{ ...lens, sensor: { widthMm: 36 } }, "/sensor/heightMm"],
    [{ ...lens, sensor: { widthMm: 36, heightMm: 24, pixels: 6000 } }, "/sensor/pixels"],
    [{ ...lens, focusDistanceM: 0.02 }, "/focusDistanceM"],
    [{ ...lens, focusDistanceM: -1 }, "/focusDistanceM"],
    [{ ...lens, focusDistanceM: "far" }, "/focusDistanceM"],
    [{ ...lens, focusDistanceM: null }, "/focusDistanceM"],
    [{ ...lens, wantedNearM: 10, wantedFarM: 5 }, "/wantedFarM"],
    [{ ...lens, wantedFarM: 5 }, "/wantedNearM"],
    [{ ...lens, print: { longSideMm: 300 } }, "/circleOfConfusionMm"],
    [{ ...lens, circleOfConfusionMm: 0 }, "/circleOfConfusionMm"],
    [{ ...lens, subjectDistanceM: 3 }, "/subjectDistanceM"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(depth(body))).toContain(pointer);
  });

  it("lists the sensors that it knows by name", async () => {
    const { errors } = await problem(depth({ ...lens, sensor: "fullframe" }), 400);
    expect(errors?.[0]).toMatchObject({ pointer: "/sensor", received: "fullframe" });
    for (const name of ["full-frame", "aps-c", "four-thirds", "medium-44x33"]) {
      expect(errors?.[0]?.allowed).toContain(name);
    }
  });
});

describe("POST /v1/optics/focus-stack", () => {
  const stack = to("/v1/optics/focus-stack");

  it("answers the frames from the nearest on, without a gap", async () => {
    const found = await answer<{ count: number; frames: { nearM: number; far: { distanceM: number | null } }[] }>(
      stack({ ...lens, nearM: 0.3, overlap: 0.2 }),
    );
    expect(found.count).toBe(found.frames.length);
    expect(found.count).toBeGreaterThan(2);
    expect(found.frames[0]?.nearM).toBeCloseTo(0.3, 6);
    expect(found.frames.at(-1)?.far).toEqual({ kind: "infinity", distanceM: null });
    for (let i = 1; i < found.frames.length; i++) {
      expect(found.frames[i]?.nearM).toBeLessThan(found.frames[i - 1]?.far.distanceM as number);
    }
  });

  it("is a single frame where that is enough", async () => {
    expect(await answer(stack({ ...lens, nearM: 2, farM: 6 }))).toMatchObject({
      count: 1,
      frames: [{ focusDistanceM: expect.closeTo(3, 6) }],
    });
  });

  it.each([
    [{ ...lens }, "/nearM"],
    [{ ...lens, nearM: 10, farM: 5 }, "/farM"],
    [{ ...lens, nearM: 0.01 }, "/nearM"],
    [{ ...lens, nearM: 1, aperture: 0 }, "/aperture"],
    [{ ...lens, nearM: 1, overlap: 1 }, "/overlap"],
    [{ ...lens, nearM: 1, frames: 3 }, "/frames"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(stack(body))).toContain(pointer);
  });

  it("understands a stack without end, and has no answer", async () => {
    const macro = { ...lens, focalLengthMm: 600, aperture: 1.4, nearM: 1 };
    expect(await refusedFields(stack(macro), 422)).toEqual(["/nearM"]);
  });
});

describe("POST /v1/optics/angle-of-view", () => {
  const view = to("/v1/optics/angle-of-view");

  it("answers the angles, and what a crop costs", async () => {
    expect(await answer(view({ sensor: "full-frame", focalLengthMm: 24, cropAspect: "16:9" }))).toMatchObject({
      horizontalDeg: 73.7397953,
      verticalDeg: 53.1301024,
      fullFrameEquivalentMm: 24,
      fillsFrame: true,
      crop: { cut: "top-and-bottom", keptPercent: 84.375, horizontalDeg: 73.7397953 },
    });
  });

  it("turns with the camera, and knows fisheyes", async () => {
    const upright = { sensor: "full-frame", focalLengthMm: 24, orientation: "portrait" };
    expect(await answer(view(upright))).toMatchObject({ horizontalDeg: 53.1301024, widthMm: 24 });
    const fisheye = { sensor: "full-frame", focalLengthMm: 8, projection: "equidistant" };
    expect(await answer(view(fisheye))).toMatchObject({ diagonalDeg: 180, fillsFrame: false });
  });

  it.each([
    [{ focalLengthMm: 24 }, "/sensor"],
    [{ sensor: "full-frame", focalLengthMm: -1 }, "/focalLengthMm"],
    [{ sensor: "full-frame", focalLengthMm: 24, cropAspect: "16x9" }, "/cropAspect"],
    [{ sensor: "full-frame", focalLengthMm: 24, orientation: "square" }, "/orientation"],
    [{ sensor: "full-frame", focalLengthMm: 24, projection: "flat" }, "/projection"],
    [{ sensor: "full-frame", focalLengthMm: 24, coverageDeg: 180 }, "/coverageDeg"],
    [{ sensor: "full-frame", focalLengthMm: 24, focusDistanceM: 0.03 }, "/focusDistanceM"],
    [{ sensor: "full-frame", focalLengthMm: 24, aperture: 8 }, "/aperture"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(view(body))).toContain(pointer);
  });
});

describe("POST /v1/optics/panorama", () => {
  const panorama = to("/v1/optics/panorama");
  const ridge = { sensor: "full-frame", focalLengthMm: 24, horizontalDeg: 180 };

  it("answers columns and rows, turns and pixels", async () => {
    const sensor = { widthMm: 36, heightMm: 24, widthPx: 6000 };
    expect(await answer(panorama({ ...ridge, sensor, azimuthDeg: 270 }))).toMatchObject({
      orientation: "portrait",
      columns: 5,
      rows: 1,
      count: 5,
      yawStepDeg: 36,
      pitchStepDeg: 0,
      rowPlans: [{ pitchDeg: 0, yawsDeg: [-72, -36, 0, 36, 72], azimuthsDeg: [198, 234, 270, 306, 342] }],
      stitched: [{ projection: "equirectangular", widthPx: 12_566 }, { projection: "cylindrical" }],
    });
    const sphere = await answer(panorama({ ...ridge, horizontalDeg: 360, verticalDeg: 180 }));
    expect(sphere).toMatchObject({ minAltitudeDeg: -90, maxAltitudeDeg: 90, stitched: [] });
  });

  it.each([
    [{ ...ridge, horizontalDeg: 0 }, "/horizontalDeg"],
    [{ ...ridge, horizontalDeg: 400 }, "/horizontalDeg"],
    [{ ...ridge, verticalDeg: 100, pitchDeg: 50 }, "/verticalDeg"],
    [{ ...ridge, overlap: 0.9 }, "/overlap"],
    [{ ...ridge, sensor: "plate" }, "/sensor"],
    [{ ...ridge, columns: 3 }, "/columns"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(panorama(body))).toContain(pointer);
  });

  it("understands a panorama without end, and has no answer", async () => {
    const endless = { ...ridge, focalLengthMm: 10_000, horizontalDeg: 360 };
    expect(await refusedFields(panorama(endless), 422)).toEqual(["/horizontalDeg"]);
    expect(await refusedFields(panorama({ ...endless, verticalDeg: 90 }), 422)).toEqual(["/verticalDeg"]);
  });
});
