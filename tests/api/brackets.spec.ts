import { describe, expect, it } from "vitest";
import { evenScene, takeSet } from "../core/bracketing/synthetic-scene";
import { answer, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();

describe("POST /v1/brackets/plan", () => {
  const plan = (body: unknown) => post(app, "/v1/brackets/plan", body);
  const camera = { aperture: 8, iso: 100, headroomStops: 3, footroomStops: 6 };
  const scene = { shadowEv100: 3, highlightEv100: 16, camera };

  it("answers the fewest frames, each with its bias, time and coverage", async () => {
    const set = await answer<{ frames: unknown[]; reasons: { code: string }[] }>(plan(scene));
    expect(set).toMatchObject({ count: 3, stepStops: 2, coverageStops: 13, warnings: [], cautions: [] });
    expect(set.frames).toEqual([
      { biasStops: -2, shutterSeconds: 0.0078125, nominal: "1/125 s", nominalSeconds: 0.008, coversEv100: [7, 16] },
      { biasStops: 0, shutterSeconds: 0.03125, nominal: "1/30 s", nominalSeconds: 0.033333333, coversEv100: [5, 14] },
      { biasStops: 2, shutterSeconds: 0.125, nominal: "1/8 s", nominalSeconds: 0.125, coversEv100: [3, 12] },
    ]);
    expect(set.reasons.map(({ code }) => code)).toEqual(["scene-range", "frames"]);
  });

  it("takes a camera as the other operations know it, and uses what it needs of it", async () => {
    const whole = {
      ...camera,
      sensor: "full-frame",
      focalLengthMm: 24,
      azimuthDeg: 290,
      pitchDeg: 2,
      orientation: "landscape",
    };
    expect(await answer(plan({ ...scene, camera: whole }))).toEqual(await answer(plan(scene)));
  });

  it("covers ±3 and what the sensor holds with seven frames at 1 EV", async () => {
    const set = await answer(plan({ ...scene, highlightEv100: 18, stepStops: 1 }));
    expect(set).toMatchObject({ count: 7, stepStops: 1, coverageStops: 15 });
  });

  it("lengthens every frame by the filters, and warns", async () => {
    const set = await answer<{ frames: { shutterSeconds: number }[]; warnings: { code: string }[] }>(
      plan({
        ...scene,
        filters: [{ kind: "nd", stops: 10 }],
        lightStopsPerMinute: -0.3,
        subject: { pxPerSecond: 2, budgetPx: 4 },
      }),
    );
    expect(set.frames.map(({ shutterSeconds }) => shutterSeconds)).toEqual([8, 32, 128]);
    expect(set.warnings.map(({ code }) => code)).toEqual(["needs-bulb", "light-drift", "subject-displacement"]);
  });

  it("understands a scene that cannot be held, and says what would hold it", async () => {
    const refused = await problem(plan({ ...scene, shadowEv100: -4, stepStops: 1, counts: [3] }), 422);
    expect(refused.errors?.[0]).toMatchObject({
      pointer: "/highlightEv100",
      allowed: expect.stringContaining("it would take 12 frames at 1 EV"),
    });
  });

  it.each([
    [{ ...scene, highlightEv100: 2 }, "/highlightEv100"],
    [{ ...scene, shadowEv100: "NaN" }, "/shadowEv100"],
    [{ highlightEv100: 3 }, "/shadowEv100"],
    [{ ...scene, camera: { ...camera, aperture: 0 } }, "/camera/aperture"],
    [{ ...scene, camera: { ...camera, dynamicRangeStops: 12 } }, "/camera/footroomStops"],
    [{ ...scene, camera: { ...camera, brand: "Ardvane" } }, "/camera/brand"],
    [{ ...scene, stepStops: 0.1 }, "/stepStops"],
    [{ ...scene, counts: [] }, "/counts"],
    [{ ...scene, counts: [3, 4.5] }, "/counts/1"],
    [{ ...scene, subject: { budgetPx: 3 } }, "/subject/pxPerSecond"],
    [{ ...scene, frames: 3 }, "/frames"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(plan(body))).toContain(pointer);
  });
});

describe("POST /v1/brackets/review", () => {
  const review = (body: unknown) => post(app, "/v1/brackets/review", body);

  it("asks for one more at -3 where the frame at -2 still clips", async () => {
    const frames = takeSet(evenScene(-6, 2.5), [-2, 0, 2]);
    const found = await answer<{ frames: { biasStops: number; clippedHighlightPercent: number; needed: boolean }[] }>(
      review({ frames }),
    );
    expect(found).toMatchObject({
      sceneRangeIsMinimum: true,
      missing: [{ biasStops: -3, code: "highlights-clip", reason: expect.stringContaining("-3 EV") }],
      fewestFrames: 1,
      leaveOut: [1, 2],
    });
    expect(found.frames.map(({ biasStops, needed }) => [biasStops, needed])).toEqual([
      [-2, true],
      [0, false],
      [2, false],
    ]);
    expect(found.frames[0]?.clippedHighlightPercent).toBeCloseTo((100 * 0.5) / 8.5, 0);
  });

  it("recovers the range of a scene from linear histograms", async () => {
    const frames = takeSet(evenScene(-9, 3), [-4, 0, 4], { coding: "linear", bins: 4096 });
    const { sceneRangeStops, missing } = await answer<{ sceneRangeStops: number; missing: unknown[] }>(
      review({ frames }),
    );
    expect(Math.abs(sceneRangeStops - 12)).toBeLessThan(1 / 3);
    expect(missing).toEqual([]);
  });

  const [frame] = takeSet(evenScene(-6, -1), [0]) as [ReturnType<typeof takeSet>[number]];
  const { red, green, blue } = frame.histogram;
  it.each([
    [
      "histograms of different lengths",
      { frames: [{ ...frame, histogram: { red, green: [...green, 1], blue } }] },
      "/frames/0/histogram/green",
    ],
    [
      "too few bins",
      { frames: [{ ...frame, histogram: { red: [1], green: [1], blue: [1] } }] },
      "/frames/0/histogram/red",
    ],
    [
      "negative counts",
      { frames: [{ ...frame, histogram: { red: red.with(7, -1), green, blue } }] },
      "/frames/0/histogram/red/7",
    ],
    [
      "no pixels",
      { frames: [{ ...frame, histogram: { red, green, blue: blue.map(() => 0) } }] },
      "/frames/0/histogram/blue",
    ],
    ["frames without bias", { frames: [{ histogram: frame.histogram, coding: "srgb" }] }, "/frames/0/biasStops"],
    ["a bias that is no number", { frames: [{ ...frame, biasStops: "NaN" }] }, "/frames/0/biasStops"],
    ["an unknown coding", { frames: [{ ...frame, coding: "log" }] }, "/frames/0/coding"],
    ["no frames", { frames: [] }, "/frames"],
    ["an unknown field", { frames: [frame], photos: 3 }, "/photos"],
  ])("refuses %s by name", async (_, body, pointer) => {
    expect(await refusedFields(review(body))).toContain(pointer);
  });
});
