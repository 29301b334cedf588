import { DomainError } from "@fieldstop/core";
import { dipDeg } from "@fieldstop/core/almanac";
import {
  flatHorizon,
  horizonAltitudeDeg,
  horizonProfileFromCsv,
  horizonProfileFromPoints,
  horizonProfileToCsv,
  MAX_HORIZON_POINTS,
  skyViewFactor,
} from "@fieldstop/core/horizon";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const point = fc.record({
  azimuthDeg: fc.integer({ min: 0, max: 359_999 }).map((n) => n / 1000),
  altitudeDeg: fc.integer({ min: -9000, max: 9000 }).map((n) => n / 100),
});
const points = fc.uniqueArray(point, { minLength: 2, maxLength: 60, selector: (p) => p.azimuthDeg });

describe("@examples", () => {
  it("sorts readings", () => {
    expect(
      horizonProfileFromPoints([
        { azimuthDeg: 270, altitudeDeg: 4 },
        { azimuthDeg: 90, altitudeDeg: 1 },
      ]),
    ).toEqual({ azimuthsDeg: [90, 270], altitudesDeg: [1, 4] });
  });

  it("reads lines", () => {
    expect(horizonProfileFromCsv("azimuth,altitude\n90,1\n270,4\n")).toEqual({
      azimuthsDeg: [90, 270],
      altitudesDeg: [1, 4],
    });
  });

  it("reads between the azimuths and writes lines", () => {
    const profile = { azimuthsDeg: [90, 270], altitudesDeg: [1, 4] };
    expect(horizonAltitudeDeg(profile, 180)).toBe(2.5);
    expect(horizonProfileToCsv(profile)).toBe("azimuth,altitude\n90,1\n270,4\n");
  });

  it("gives the dip, the open horizon and the sky view", () => {
    expect(dipDeg(10)).toBeCloseTo(0.0927, 4);
    expect(flatHorizon(0)).toEqual({ azimuthsDeg: [0, 180], altitudesDeg: [0, 0] });
    expect(skyViewFactor({ azimuthsDeg: [0, 180], altitudesDeg: [30, 30] })).toBeCloseTo(0.75, 12);
  });
});

describe("horizonProfileFromPoints", () => {
  it("does not depend on the order of the readings", () => {
    fc.assert(
      fc.property(points, (readings) => {
        expect(horizonProfileFromPoints([...readings].reverse())).toEqual(horizonProfileFromPoints(readings));
      }),
    );
  });

  it("passes through every reading", () => {
    fc.assert(
      fc.property(points, (readings) => {
        const profile = horizonProfileFromPoints(readings);
        for (const { azimuthDeg, altitudeDeg } of readings) {
          expect(horizonAltitudeDeg(profile, azimuthDeg)).toBeCloseTo(altitudeDeg, 9);
        }
      }),
    );
  });

  it("takes 360 for north and keeps the distances that are known", () => {
    const profile = horizonProfileFromPoints([
      { azimuthDeg: 180, altitudeDeg: 2, distanceM: 1500 },
      { azimuthDeg: 360, altitudeDeg: 5 },
    ]);
    expect(profile).toEqual({ azimuthsDeg: [0, 180], altitudesDeg: [5, 2], distancesM: [null, 1500] });
  });

  const p = (azimuthDeg: number, altitudeDeg = 0, distanceM?: number) => ({ azimuthDeg, altitudeDeg, distanceM });
  it.each([
    [[], "points"],
    [[p(1)], "points"],
    [Array.from({ length: MAX_HORIZON_POINTS + 1 }, (_, i) => p(i / 100)), "points"],
    [[p(1), p(2), p(3), p(2)], "points.3.azimuthDeg"],
    [[p(0), p(90), p(360)], "points.2.azimuthDeg"],
    [[p(0), p(-1)], "points.1.azimuthDeg"],
    [[p(0), p(Number.NaN)], "points.1.azimuthDeg"],
    [[p(0, 91), p(10)], "points.0.altitudeDeg"],
    [[p(0), p(10, 0, -1)], "points.1.distanceM"],
    [[p(0), p(10, 0, Number.POSITIVE_INFINITY)], "points.1.distanceM"],
  ])("refuses bad readings by name (%#)", (readings, param) => {
    const attempt = () => horizonProfileFromPoints(readings);
    expect(attempt).toThrow(DomainError);
    expect(attempt).toThrow(expect.objectContaining({ param }));
  });

  it("takes as many readings as there may be", () => {
    const readings = Array.from({ length: MAX_HORIZON_POINTS }, (_, i) => p((i * 360) / MAX_HORIZON_POINTS));
    expect(horizonProfileFromPoints(readings).azimuthsDeg).toHaveLength(MAX_HORIZON_POINTS);
  });
});

describe("profiles as text", () => {
  it("come back to the same numbers", () => {
    fc.assert(
      fc.property(points, fc.boolean(), (readings, distances) => {
        const profile = horizonProfileFromPoints(
          readings.map((reading, i) => (distances && i % 2 === 0 ? { ...reading, distanceM: i * 10.5 } : reading)),
        );
        expect(horizonProfileFromCsv(horizonProfileToCsv(profile))).toEqual(profile);
      }),
    );
  });

  it("may have a header, comments, empty lines, carriage returns, a byte order mark and distances", () => {
    const text = "\uFEFF# the strand\r\nAzimuth, Altitude, Distance\r\n\r\n0, 1.5, 900\r\n180.25, -.05\r\n";
    expect(horizonProfileFromCsv(text)).toEqual({
      azimuthsDeg: [0, 180.25],
      altitudesDeg: [1.5, -0.05],
      distancesM: [900, null],
    });
  });

  it.each([
    ["0,1\n90,high\n180,2", "points.line-2"],
    ["azimuth,altitude\nazimuth,altitude\n0,1\n90,2", "points.line-2"],
    ["0;1\n90;2", "points.line-1"],
    ["0,1,2,3\n90,2", "points.line-1"],
    ["0x10,1\n90,2", "points.line-1"],
    ["0,1,near\n90,2", "points.line-1"],
    ["0,1\n90,NaN", "points.line-2"],
    ["0,1\n90,95", "points.1.altitudeDeg"],
    ["azimuth,altitude", "points"],
    ["", "points"],
  ])("refuses %j by line or reading", (text, param) => {
    expect(() => horizonProfileFromCsv(text)).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });

  it("refuses a cell of a hundred thousand characters as quickly as a short one", () => {
    const startMs = performance.now();
    for (const cell of [`${"9".repeat(100_000)}x`, `0.${"0".repeat(100_000)}x`, "1".repeat(100_000)]) {
      const refusal = expect.objectContaining({ name: "DomainError", param: "points.line-2" });
      expect(() => horizonProfileFromCsv(`0,1\n90,${cell}`)).toThrow(refusal);
    }
    // a pattern that goes back over the digits takes seconds for each
    expect(performance.now() - startMs).toBeLessThan(500);
  });
});

describe("a cell of 40,000 digits", () => {
  it.each(["", "x", ".x", "e"])("is read or refused at once (%j at its end)", (end) => {
    const startedAt = performance.now();
    try {
      horizonProfileFromCsv(`0,1\n90,${"0".repeat(40_000)}${end}`);
    } catch (error) {
      expect(error).toBeInstanceOf(DomainError);
    }
    expect(performance.now() - startedAt).toBeLessThan(50);
  });
});

describe("the open horizon", () => {
  it("dips more from higher up, the same all round", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 4000, noNaN: true }),
        fc.double({ min: 0.1, max: 4000, noNaN: true }),
        (h, more) => {
          expect(dipDeg(h + more)).toBeGreaterThan(dipDeg(h));
          expect(horizonAltitudeDeg(flatHorizon(h), 123)).toBeCloseTo(-dipDeg(h), 12);
        },
      ),
    );
  });

  it.each([-0.1, Number.NaN, 9001])("refuses an eye at %d m", (eyeHeightM) => {
    expect(() => flatHorizon(eyeHeightM)).toThrow(expect.objectContaining({ param: "eyeHeightM" }));
  });
});

describe("skyViewFactor", () => {
  it("is 1 under an open sky and below the horizontal, 0 in a shaft", () => {
    expect(skyViewFactor(flatHorizon(100))).toBe(1);
    expect(skyViewFactor({ azimuthsDeg: [0, 120, 240], altitudesDeg: [90, 90, 90] })).toBeCloseTo(0, 12);
  });

  it("agrees with a fine sum over any skyline", () => {
    fc.assert(
      fc.property(points, (readings) => {
        const profile = horizonProfileFromPoints(readings);
        let blocked = 0;
        const count = 36_000;
        for (let i = 0; i < count; i++) {
          const altitude = Math.max(0, horizonAltitudeDeg(profile, ((i + 0.5) * 360) / count));
          blocked += Math.sin((altitude * Math.PI) / 180) ** 2;
        }
        expect(skyViewFactor(profile)).toBeCloseTo(1 - blocked / count, 3);
      }),
      { numRuns: 25 },
    );
  });

  it("falls as the skyline rises", () => {
    fc.assert(
      fc.property(points, fc.double({ min: 0.1, max: 30, noNaN: true }), (readings, rise) => {
        const profile = horizonProfileFromPoints(readings);
        const higher = {
          ...profile,
          altitudesDeg: profile.altitudesDeg.map((altitude) => Math.min(90, altitude + rise)),
        };
        expect(skyViewFactor(higher)).toBeLessThanOrEqual(skyViewFactor(profile) + 1e-12);
      }),
    );
  });
});
