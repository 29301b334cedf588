import { frameProjection } from "@fieldstop/core/framing";
import { asHeld, type Panorama, type PanoramaRequest, planPanorama, readSensor } from "@fieldstop/core/optics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const ridge: PanoramaRequest = { sensor: "full-frame", focalLengthMm: 24, horizontalDeg: 180 };

/** How many frames of the panorama see a direction. */
function framesSeeing(panorama: Panorama, request: PanoramaRequest): (yawDeg: number, altitudeDeg: number) => number {
  const { widthMm, heightMm } = asHeld(readSensor(request.sensor), panorama.orientation);
  const frames = panorama.rowPlans.flatMap(({ pitchDeg, yawsDeg }) =>
    yawsDeg.map((azimuthDeg) =>
      frameProjection({ azimuthDeg, pitchDeg, focalLengthMm: request.focalLengthMm, widthMm, heightMm }),
    ),
  );
  const slack = 1e-6;
  return (yawDeg, altitudeDeg) =>
    frames.filter((frame) => {
      const point = frame.toFrame(yawDeg, altitudeDeg);
      if (point === null) return false;
      return Math.max(Math.abs(point.x - 0.5), Math.abs(point.y - 0.5)) <= 0.5 + slack;
    }).length;
}

describe("@examples", () => {
  it("answer as documented", () => {
    expect(planPanorama(ridge).columns).toBe(5);
  });
});

describe("planPanorama", () => {
  it("turns by what neighbours may leave over, and closes a full circle", () => {
    const half = planPanorama({ ...ridge, azimuthDeg: 270 });
    expect(half).toMatchObject({ orientation: "portrait", rows: 1, count: 5, yawStepDeg: 36, pitchStepDeg: 0 });
    expect(half.rowPlans[0]?.yawsDeg).toEqual([-72, -36, 0, 36, 72]);
    expect(half.rowPlans[0]?.azimuthsDeg).toEqual([198, 234, 270, 306, 342]);
    const circle = planPanorama({ ...ridge, horizontalDeg: 360 });
    expect(circle).toMatchObject({ columns: 10, yawStepDeg: 36 });
    expect(planPanorama({ ...ridge, orientation: "landscape" }).columns).toBeLessThan(5);
  });

  it("is a single frame where one holds it", () => {
    const { count, yawStepDeg, rowPlans } = planPanorama({ ...ridge, horizontalDeg: 50 });
    expect(count).toBe(1);
    expect(yawStepDeg).toBe(0);
    expect(rowPlans[0]?.yawsDeg).toEqual([0]);
  });

  it("holds every direction between its edges in some frame", () => {
    const requests = fc
      .record({
        focalLengthMm: fc.double({ min: 12, max: 85, noNaN: true }),
        horizontalDeg: fc.oneof(fc.double({ min: 10, max: 359, noNaN: true }), fc.constant(360)),
        verticalDeg: fc.option(fc.double({ min: 1, max: 180, noNaN: true }), { nil: undefined }),
        tilt: fc.double({ min: -1, max: 1, noNaN: true }),
        overlap: fc.double({ min: 0.1, max: 0.5, noNaN: true }),
        orientation: fc.constantFrom("portrait" as const, "landscape" as const),
      })
      .map(({ tilt, verticalDeg, ...rest }): PanoramaRequest => {
        const pitchDeg = tilt * (90 - (verticalDeg ?? 60) / 2);
        return { ...rest, sensor: "full-frame", pitchDeg, ...(verticalDeg === undefined ? {} : { verticalDeg }) };
      });
    let looked = 0;
    fc.assert(
      fc.property(requests, (request) => {
        const panorama = planPanorama(request);
        const { minAltitudeDeg, maxAltitudeDeg } = panorama;
        if (request.verticalDeg !== undefined) {
          expect(minAltitudeDeg).toBeLessThanOrEqual((request.pitchDeg as number) - request.verticalDeg / 2 + 1e-6);
          expect(maxAltitudeDeg).toBeGreaterThanOrEqual((request.pitchDeg as number) + request.verticalDeg / 2 - 1e-6);
        }
        const seeing = framesSeeing(panorama, request);
        const steps = 24;
        for (let i = 0; i <= steps; i++) {
          for (let j = 0; j <= steps; j++) {
            const yaw = request.horizontalDeg * (i / steps - 0.5);
            const altitude = minAltitudeDeg + (maxAltitudeDeg - minAltitudeDeg) * (j / steps);
            looked++;
            if (seeing(yaw, altitude) === 0) throw new Error(`nothing sees ${yaw}, ${altitude}`);
          }
        }
      }),
      { numRuns: 40 },
    );
    expect(looked).toBe(40 * 25 * 25);
  });

  it("shares the overlap between neighbours of a level row", () => {
    for (const overlap of [0.1, 0.3, 0.5]) {
      const { yawStepDeg, frameHorizontalDeg, overlap: kept } = planPanorama({ ...ridge, overlap });
      expect(kept).toBe(overlap);
      expect(1 - yawStepDeg / frameHorizontalDeg).toBeGreaterThanOrEqual(overlap - 1e-12);
    }
  });

  it("holds the whole sphere, the poles too, with fewer frames than a grid", () => {
    const request = { ...ridge, focalLengthMm: 35, horizontalDeg: 360, verticalDeg: 180 };
    const sphere = planPanorama(request);
    expect(sphere).toMatchObject({ minAltitudeDeg: -90, maxAltitudeDeg: 90 });
    expect(sphere.count).toBeLessThanOrEqual(sphere.columns * sphere.rows);
    const seeing = framesSeeing(sphere, request);
    expect(seeing(123, 90)).toBeGreaterThan(0);
    expect(seeing(123, -90)).toBeGreaterThan(0);
  });

  it("counts the pixels of the stitched picture", () => {
    const sensor = { widthMm: 36, heightMm: 24, widthPx: 6000 };
    const { stitched } = planPanorama({ ...ridge, sensor, verticalDeg: 60 });
    const perRadian = 24 / 0.006;
    expect(stitched).toEqual([
      {
        projection: "equirectangular",
        widthPx: Math.round(perRadian * Math.PI),
        heightPx: Math.round((perRadian * Math.PI) / 3),
        megapixels: expect.closeTo(perRadian ** 2 * (Math.PI ** 2 / 3) * 1e-6, 1),
      },
      expect.objectContaining({
        projection: "cylindrical",
        heightPx: Math.round(perRadian * 2 * Math.tan(Math.PI / 6)),
      }),
    ]);
    const high = planPanorama({ ...ridge, sensor, verticalDeg: 150 }).stitched;
    expect(high.map(({ projection }) => projection)).toEqual(["equirectangular"]);
    expect(planPanorama(ridge).stitched).toEqual([]);
  });

  it("says what it took for granted", () => {
    expect(planPanorama(ridge).assumptions.map(({ field }) => field)).toEqual(["orientation", "overlap"]);
  });

  it.each<[string, string, Partial<PanoramaRequest>]>([
    ["horizontalDeg", "out-of-range", { horizontalDeg: 0 }],
    ["horizontalDeg", "out-of-range", { horizontalDeg: 361 }],
    ["verticalDeg", "out-of-range", { verticalDeg: 100, pitchDeg: 50 }],
    ["pitchDeg", "out-of-range", { pitchDeg: 91 }],
    ["overlap", "out-of-range", { overlap: 0.9 }],
    ["azimuthDeg", "out-of-range", { azimuthDeg: Number.NaN }],
    ["orientation", "out-of-range", { orientation: "round" as never }],
    ["sensor", "out-of-range", { sensor: "plate" as never }],
    ["horizontalDeg", "impossible", { focalLengthMm: 10_000, horizontalDeg: 360 }],
    ["verticalDeg", "impossible", { focalLengthMm: 3000, horizontalDeg: 360, verticalDeg: 20 }],
    ["verticalDeg", "impossible", { focalLengthMm: 10_000, verticalDeg: 180, overlap: 0.8 }],
  ])("refuses %s (%s) of %j", (param, code, bad) => {
    expect(() => planPanorama({ ...ridge, ...bad })).toThrow(
      expect.objectContaining({ name: "DomainError", param, code }),
    );
  });
});
