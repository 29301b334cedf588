import { type CameraHeightRequest, type ForegroundThing, solveCameraHeight } from "@fieldstop/core/framing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const tanOf = (deg: number): number => Math.tan((deg * Math.PI) / 180);
const atanOf = (x: number): number => (Math.atan(x) * 180) / Math.PI;

/** A ridge of one altitude all round. */
const ridge = (altitudeDeg: number, distanceM?: number) => ({
  azimuthsDeg: [0, 180],
  altitudesDeg: [altitudeDeg, altitudeDeg],
  ...(distanceM === undefined ? {} : { distancesM: [distanceM, distanceM] }),
});

const boulder: ForegroundThing = { name: "boulder", distanceM: 5, topM: 1.5 };
const request = (change: Partial<CameraHeightRequest> = {}): CameraHeightRequest => ({
  things: [boulder],
  profile: ridge(3),
  profileEyeHeightM: 1.6,
  azimuthDeg: 290,
  lens: { focalLengthMm: 24, heightMm: 24 },
  ...change,
});
const only = (change: Partial<CameraHeightRequest> = {}) => {
  const [thing] = solveCameraHeight(request(change)).things;
  if (thing === undefined) throw new Error("no thing came back");
  return thing;
};

describe("@examples", () => {
  it("lets the ridge clear a boulder from 1.238 m", () => {
    const { clears } = only();
    expect(clears).toEqual({ kind: "between", fromM: expect.closeTo(1.238, 4), toM: 2 });
  });
});

describe("solveCameraHeight", () => {
  it("puts the camera level with a top where the ridge stands on the level", () => {
    const { clears, hidden, ranges } = only({ profile: ridge(0) });
    expect(clears).toEqual({ kind: "between", fromM: expect.closeTo(1.5, 12), toM: 2 });
    expect(hidden).toEqual({ kind: "between", fromM: 0.1, toM: expect.closeTo(1.5, 12) });
    expect(ranges.map(({ state }) => state)).toEqual(["hidden", "clear"]);
  });

  // (1.5 − h)/5 = (r − h)/50 with a crest r 1.6 m + 50 m·tan 3° high: h = (1.5/5 − r/50)/(1/5 − 1/50)
  it("lets a near ridge sink as the camera rises", () => {
    const crestM = 1.6 + 50 * tanOf(3);
    const { clears } = only({ profile: ridge(3, 50) });
    expect(clears).toMatchObject({ fromM: expect.closeTo((1.5 / 5 - crestM / 50) / (1 / 5 - 1 / 50), 10) });
  });

  it("frames a ridge under a branch from below, and hides it from above", () => {
    const { framedUnder, hidden, clears } = only({ things: [{ distanceM: 4, undersideM: 1.9 }], profile: ridge(3) });
    const heightM = 1.9 - 4 * tanOf(3);
    expect(framedUnder).toEqual({ kind: "between", fromM: 0.1, toM: expect.closeTo(heightM, 10) });
    expect(hidden).toEqual({ kind: "between", fromM: expect.closeTo(heightM, 10), toM: 2 });
    expect(clears).toEqual({ kind: "never", nearestM: null });
  });

  it("looks under a bridge, at it, and over it", () => {
    const { ranges } = only({ things: [{ distanceM: 4, undersideM: 0.8, topM: 1.4 }], profile: ridge(0) });
    expect(ranges).toEqual([
      { state: "framed-under", fromM: 0.1, toM: expect.closeTo(0.8, 12) },
      { state: "hidden", fromM: expect.closeTo(0.8, 12), toM: expect.closeTo(1.4, 12) },
      { state: "clear", fromM: expect.closeTo(1.4, 12), toM: 2 },
    ]);
  });

  it("says never and always as values, with the height that it would take", () => {
    expect(only({ things: [{ distanceM: 5, topM: 2.6 }], profile: ridge(0) })).toMatchObject({
      clears: { kind: "never", nearestM: expect.closeTo(2.6, 12) },
      hidden: { kind: "always" },
    });
    expect(only({ things: [{ distanceM: 5, topM: 0.05 }], profile: ridge(0) })).toMatchObject({
      clears: { kind: "always" },
      hidden: { kind: "never", nearestM: expect.closeTo(0.05, 12) },
    });
  });

  it("is partly open where the ridge runs across a wide thing", () => {
    const profile = { azimuthsDeg: [0, 280, 300], altitudesDeg: [0, 0, 4] };
    const { ranges } = only({ things: [{ ...boulder, widthDeg: 20 }], profile });
    expect(ranges).toEqual([
      { state: "hidden", fromM: 0.1, toM: expect.closeTo(1.5 - 5 * tanOf(4), 10) },
      { state: "partly", fromM: expect.closeTo(1.5 - 5 * tanOf(4), 10), toM: expect.closeTo(1.5, 10) },
      { state: "clear", fromM: expect.closeTo(1.5, 10), toM: 2 },
    ]);
  });

  it("finds the notch between two nodes behind a wide thing, across north too", () => {
    const profile = { azimuthsDeg: [0, 10, 350], altitudesDeg: [1, 5, 5] };
    const { clears } = only({ things: [{ ...boulder, azimuthDeg: 0, widthDeg: 10 }], profile });
    expect(clears).toMatchObject({ fromM: expect.closeTo(1.5 - 5 * tanOf(1), 10) });
  });

  it("is open past all things only where it is open past each", () => {
    const things = [
      { distanceM: 5, topM: 0.6 },
      { distanceM: 4, undersideM: 1.9 },
      { distanceM: 3, undersideM: 0.9, topM: 1.2 },
    ];
    const { open } = solveCameraHeight(request({ things, profile: ridge(0) }));
    expect(open).toEqual([
      { fromM: expect.closeTo(0.6, 12), toM: expect.closeTo(0.9, 12) },
      { fromM: expect.closeTo(1.2, 12), toM: expect.closeTo(1.9, 12) },
    ]);
    expect(solveCameraHeight(request({ things: [{ distanceM: 5, topM: 3 }], profile: ridge(0) })).open).toEqual([]);
  });

  it("halves the angle from the foot of the boulder to the ridge", () => {
    const [lowest] = only().views;
    expect(lowest?.framing).toEqual({
      kind: "fits",
      verticalAngleDeg: expect.closeTo(atanOf(1.4 / 5) - atanOf(-0.1 / 5), 10),
      pitchDeg: expect.closeTo((atanOf(1.4 / 5) + atanOf(-0.1 / 5)) / 2, 10),
      minPitchDeg: expect.closeTo(atanOf(1.4 / 5) - atanOf(0.5), 10),
      maxPitchDeg: expect.closeTo(atanOf(-0.1 / 5) + atanOf(0.5), 10),
    });
  });

  it("says so where a long lens cannot hold both", () => {
    const view = only({ lens: { focalLengthMm: 200, heightMm: 24 } }).views[0];
    expect(view?.framing).toMatchObject({ kind: "too-tall", lensAngleDeg: expect.closeTo(2 * atanOf(0.06), 10) });
  });

  it("tells what 10 cm change, in degrees, in the frame and in pixels", () => {
    const lens = { focalLengthMm: 24, heightMm: 24, heightPx: 4000 };
    const view = only({ profile: ridge(0), lens }).views[1];
    expect(view?.heightM).toBeCloseTo(1.5, 12);
    expect(view?.gapDeg).toBeCloseTo(0, 12);
    expect(view?.per10Cm.edgeDeg).toBeCloseTo(atanOf(-0.1 / 5), 10);
    expect(view?.per10Cm.ridgeDeg).toBe(0);
    expect(view?.per10Cm.gapDeg).toBeCloseTo(atanOf(0.1 / 5), 10);
    // 0.02 of the focal length, stretched by the pitch of half of atan(1.5/5)
    const pitchDeg = -atanOf(1.5 / 5) / 2;
    const share = tanOf(-pitchDeg) - tanOf(-atanOf(0.1 / 5) - pitchDeg);
    expect(view?.per10Cm.gapFramePercent).toBeCloseTo(100 * share, 8);
    expect(view?.per10Cm.gapPx).toBeCloseTo(4000 * share, 6);
    expect(only().views[0]?.per10Cm).not.toHaveProperty("gapPx");
  });

  it("says what it assumed", () => {
    const fields = (change: Partial<CameraHeightRequest>) =>
      solveCameraHeight(request(change)).assumptions.map(({ field }) => field);
    expect(fields({})).toEqual(["minHeightM", "maxHeightM", "ground", "things.0.widthDeg", "things.0.ridge"]);
    const told = { minHeightM: 0.2, maxHeightM: 1.8, things: [{ ...boulder, widthDeg: 4 }], profile: ridge(3, 2000) };
    expect(fields(told)).toEqual(["ground"]);
  });
});

const metres = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anyThing = fc
  .record({
    distanceM: metres(0.2, 90),
    edgeM: metres(-5, 8),
    thickM: metres(0.05, 3),
    kind: fc.nat(2),
    widthDeg: metres(0, 60),
    azimuthDeg: metres(0, 360),
  })
  .map(
    ({ edgeM, thickM, kind, ...thing }): ForegroundThing => ({
      ...thing,
      ...(kind === 1 ? {} : { topM: edgeM + thickM }),
      ...(kind === 0 ? {} : { undersideM: edgeM }),
    }),
  );
const anyProfile = fc
  .array(
    fc.record({
      azimuthDeg: fc.integer({ min: 0, max: 359 }),
      altitudeDeg: metres(-5, 40),
      distanceM: fc.option(metres(100, 50_000)),
    }),
    { minLength: 2, maxLength: 30 },
  )
  .map((points) =>
    [...new Map(points.map((point) => [point.azimuthDeg, point])).values()].sort((a, b) => a.azimuthDeg - b.azimuthDeg),
  )
  .filter((points) => points.length > 1)
  .map((points) => ({
    azimuthsDeg: points.map(({ azimuthDeg }) => azimuthDeg),
    altitudesDeg: points.map(({ altitudeDeg }) => altitudeDeg),
    distancesM: points.map(({ distanceM }) => distanceM),
  }));

describe("what must always hold", () => {
  it("tiles the heights without gaps, and the gap is as wide as the state says on either side", () => {
    fc.assert(
      fc.property(anyThing, anyProfile, metres(0.01, 10), metres(0.05, 10), (thing, profile, minHeightM, spanM) => {
        const maxHeightM = minHeightM + spanM;
        const seen = only({ things: [{ ...thing, widthDeg: 0 }], profile, minHeightM, maxHeightM });
        expect(seen.ranges[0]?.fromM).toBe(minHeightM);
        expect(seen.ranges.at(-1)?.toM).toBe(maxHeightM);
        seen.ranges.forEach(({ state, fromM, toM }, i) => {
          if (i > 0) expect(fromM).toBe(seen.ranges[i - 1]?.toM);
          // where it goes from one state to the next the edge touches the ridge
          if (i > 0) expect(seen.views[i]?.gapDeg).toBeCloseTo(0, 7);
          expect(state).not.toBe("partly");
          const [middle] = only({ things: [thing], profile, minHeightM: (fromM + toM) / 2, maxHeightM: 20 }).views;
          if (toM - fromM < 1e-6) return;
          if (state === "hidden") expect(middle?.gapDeg).toBeLessThan(0);
          else expect(middle?.gapDeg).toBeGreaterThan(0);
        });
      }),
    );
  });

  it("says clear of a wide thing just where it is clear of every narrow part of it", () => {
    fc.assert(
      fc.property(anyThing, anyProfile, metres(0, 1), (thing, profile, part) => {
        const width = thing.widthDeg as number;
        const azimuth = thing.azimuthDeg as number;
        const azimuthDeg = (azimuth - width / 2 + part * width + 720) % 360;
        const narrow = only({ things: [{ ...thing, azimuthDeg, widthDeg: 0 }], profile });
        for (const { state, fromM, toM } of only({ things: [thing], profile }).ranges) {
          const middle = (fromM + toM) / 2;
          const there = narrow.ranges.find((range) => middle >= range.fromM && middle <= range.toM)?.state;
          if (state !== "partly" && toM - fromM > 1e-6) expect(there).toBe(state);
        }
      }),
    );
  });

  it("does not depend on the order of things", () => {
    fc.assert(
      fc.property(fc.array(anyThing, { minLength: 1, maxLength: 6 }), anyProfile, (things, profile) => {
        const forth = solveCameraHeight(request({ things, profile }));
        const back = solveCameraHeight(request({ things: [...things].reverse(), profile }));
        expect(back.open).toEqual(forth.open);
        expect([...back.things].reverse()).toEqual(forth.things);
      }),
    );
  });
});

describe("bad input", () => {
  it.each<[Partial<CameraHeightRequest>, string]>([
    [{ things: [] }, "things"],
    [{ things: Array.from({ length: 21 }, () => boulder) }, "things"],
    [{ things: [{ distanceM: 0, topM: 1 }] }, "things.0.distanceM"],
    [{ things: [boulder, { distanceM: 2001, topM: 1 }] }, "things.1.distanceM"],
    [{ things: [{ distanceM: 5 }] }, "things.0.topM"],
    [{ things: [{ distanceM: 5, topM: Number.NaN }] }, "things.0.topM"],
    [{ things: [{ distanceM: 5, topM: 1, undersideM: 1 }] }, "things.0.undersideM"],
    [{ things: [{ ...boulder, azimuthDeg: 361 }] }, "things.0.azimuthDeg"],
    [{ azimuthDeg: undefined }, "things.0.azimuthDeg"],
    [{ things: [{ ...boulder, widthDeg: 91 }] }, "things.0.widthDeg"],
    [{ minHeightM: 0 }, "minHeightM"],
    [{ minHeightM: 1, maxHeightM: 1 }, "maxHeightM"],
    [{ maxHeightM: Number.POSITIVE_INFINITY }, "maxHeightM"],
    [{ profileEyeHeightM: -1 }, "profileEyeHeightM"],
    [{ lens: { focalLengthMm: 0, heightMm: 24 } }, "lens.focalLengthMm"],
  ])("refuses %j by name", (bad, param) => {
    expect(() => solveCameraHeight(request(bad))).toThrow(expect.objectContaining({ param, code: "out-of-range" }));
  });

  it("has no answer for a skyline in front of the thing, or one overhead", () => {
    const impossible = (param: string) => expect.objectContaining({ param, code: "impossible" });
    expect(() => only({ profile: ridge(3, 5) })).toThrow(impossible("things.0.distanceM"));
    expect(() => only({ profile: ridge(85) })).toThrow(impossible("horizon"));
  });
});
