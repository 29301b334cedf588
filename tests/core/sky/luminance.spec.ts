import { DomainError } from "@fieldstop/core";
import {
  CIE_SKIES,
  frameMeanBelowHorizon,
  frameSkyLuminance,
  fresnelReflectance,
  polarizingAngleDeg,
  relativeSkyLuminance,
  type SkyField,
  type SkyState,
  skyField,
  skyLuminance,
  skyPattern,
} from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { scatteredSky } from "./twilight-scattering";

const DEG = Math.PI / 180;

/** ∫ L·sin γ dΩ on a grid of its own: rings of equal sin² γ, even steps of azimuth. */
function onLevelGround(pattern: SkyField, rings = 120, steps = 180): number {
  let sum = 0;
  for (let i = 0; i < rings; i++) {
    const altitude = Math.asin(Math.sqrt((i + 0.5) / rings)) / DEG;
    for (let j = 0; j < steps; j++) sum += pattern.toward(((j + 0.5) * 360) / steps, altitude);
  }
  return (sum * Math.PI) / (rings * steps);
}

const percent = fc.double({ min: 0, max: 100, noNaN: true });
const skies: fc.Arbitrary<SkyState> = fc.record({
  cloudCover: fc.record({ low: percent, middle: percent, high: percent }),
  turbidity: fc.double({ min: 1, max: 15, noNaN: true }),
});
const azimuths = fc.double({ min: 0, max: 360, noNaN: true });

describe("@examples", () => {
  it("hold", () => {
    const apart = relativeSkyLuminance(12, { azimuthDeg: 180, altitudeDeg: 45 }, { azimuthDeg: 0, altitudeDeg: 60 });
    expect(apart).toBeCloseTo(0.4544524, 7);
    const sky = skyLuminance([{ body: { azimuthDeg: 180, altitudeDeg: 45 }, diffuseLux: 12_000 }]);
    expect(sky.toward(0, 90)).toBeCloseTo(2474, 0);
    expect(fresnelReflectance(80).mean).toBeCloseTo(0.3479167, 7);
    expect(polarizingAngleDeg()).toBeCloseTo(53.1232, 4);
  });
});

describe("skyPattern", () => {
  it("gives level ground the lux it stands for, within 0.5 %, for every sky and height of the sun", () => {
    fc.assert(
      fc.property(skies, fc.double({ min: -20, max: 90, noNaN: true }), azimuths, (sky, altitudeDeg, azimuthDeg) => {
        const lux = onLevelGround(skyPattern({ azimuthDeg, altitudeDeg }, sky));
        expect(Math.abs(lux - 1)).toBeLessThan(0.005);
      }),
      { numRuns: 60 },
    );
  });

  it("is the standard's type 12 for a clear sky with the sun well up", () => {
    const sun = { azimuthDeg: 210, altitudeDeg: 37.3 };
    const pattern = skyPattern(sun);
    const zenith = pattern.toward(0, 90);
    for (const [azimuthDeg, altitudeDeg] of [
      [210, 37],
      [30, 10],
      [120, 53],
      [300, 0],
    ] as const) {
      const standard = relativeSkyLuminance(12, { azimuthDeg, altitudeDeg }, sun);
      expect(pattern.toward(azimuthDeg, altitudeDeg) / zenith).toBeCloseTo(standard, 9);
    }
  });

  it("is the standard's overcast type 1 under a closed deck, the same all round", () => {
    const pattern = skyPattern({ azimuthDeg: 90, altitudeDeg: 40 }, { cloudCover: { low: 100, middle: 0, high: 0 } });
    expect(pattern.toward(17, 25) / pattern.toward(200, 25)).toBeCloseTo(1, 12);
    const overhead = { azimuthDeg: 0, altitudeDeg: 90 };
    const standard = relativeSkyLuminance(1, { azimuthDeg: 0, altitudeDeg: 25 }, overhead);
    expect(pattern.toward(0, 25) / pattern.toward(0, 90)).toBeCloseTo(standard, 9);
  });

  it("is the same on both sides of the sun, positive and finite everywhere", () => {
    fc.assert(
      fc.property(
        skies,
        fc.double({ min: -90, max: 90, noNaN: true }),
        azimuths,
        azimuths,
        fc.double({ min: -90, max: 90, noNaN: true }),
        (sky, sunAltitude, sunAzimuth, aside, altitude) => {
          const pattern = skyPattern({ azimuthDeg: sunAzimuth, altitudeDeg: sunAltitude }, sky);
          const value = pattern.toward(sunAzimuth + aside, altitude);
          expect(value).toBeGreaterThan(0);
          expect(Number.isFinite(value)).toBe(true);
          expect(pattern.toward(sunAzimuth - aside, altitude) / value).toBeCloseTo(1, 6);
        },
      ),
    );
  });

  it("has no step anywhere as the sun goes down, nor as cloud or haze comes", () => {
    const looks = [
      [270, 5],
      [90, 5],
      [180, 40],
      [0, 90],
    ] as const;
    const worst = (at: (t: number) => SkyField): number => {
      let most = 0;
      let before = looks.map(([azimuth, altitude]) => at(0).toward(azimuth, altitude));
      for (let t = 0.002; t <= 1; t += 0.002) {
        const now = looks.map(([azimuth, altitude]) => at(t).toward(azimuth, altitude));
        now.forEach((value, i) => {
          most = Math.max(most, Math.abs(Math.log2(value / (before[i] as number))));
        });
        before = now;
      }
      return most;
    };
    const evening = { azimuthDeg: 270, altitudeDeg: 12 };
    expect(worst((t) => skyPattern({ azimuthDeg: 270, altitudeDeg: 12 - 24 * t }))).toBeLessThan(0.05);
    const closing = (t: number): SkyState => ({ cloudCover: { low: 100 * t, middle: 30, high: 10 } });
    expect(worst((t) => skyPattern(evening, closing(t)))).toBeLessThan(0.05);
    expect(worst((t) => skyPattern(evening, { turbidity: 1 + 14 * t }))).toBeLessThan(0.03);
  });

  it("grows dimmer toward the sun as cloud takes the beam", () => {
    const evening = { azimuthDeg: 270, altitudeDeg: 8 };
    let before = Number.POSITIVE_INFINITY;
    for (let low = 0; low <= 100; low += 5) {
      const toward = skyPattern(evening, { cloudCover: { low, middle: 0, high: 0 } }).toward(270, 8);
      expect(toward).toBeLessThan(before);
      before = toward;
    }
  });
});

describe("the low sun and the twilight sky", () => {
  const scattered = scatteredSky();
  const HEIGHTS = [5, 4, 3, 2, 1, 0, -1, -2, -3, -4, -5, -6];

  it.each(HEIGHTS)(
    "sun at %s°: within a stop of light scattered in a spherical atmosphere, half a stop on the mean",
    (h) => {
      const seen = scattered(h);
      const theirs = skyField((east, north, up) => seen(Math.atan2(east, north) / DEG, Math.asin(up) / DEG));
      const pattern = skyPattern({ azimuthDeg: 0, altitudeDeg: h });
      const ours = skyField((east, north, up) => Math.PI * pattern.along(east, north, up));
      const differences = [0, 45, 90, 135, 180].map((azimuthDeg) =>
        Math.log2(
          (frameSkyLuminance(ours, { azimuthDeg }) as number) / (frameSkyLuminance(theirs, { azimuthDeg }) as number),
        ),
      );
      differences.push(Math.log2(ours.toward(0, 89) / theirs.toward(0, 89)));
      for (const difference of differences) expect(Math.abs(difference)).toBeLessThan(1);
      const mean = differences.reduce((sum, difference) => sum + Math.abs(difference), 0) / differences.length;
      expect(mean).toBeLessThan(0.5);
    },
  );
});

describe("skyLuminance", () => {
  it("adds up its glows", () => {
    const sun = { body: { azimuthDeg: 280, altitudeDeg: -4 }, diffuseLux: 20 };
    const moon = { body: { azimuthDeg: 120, altitudeDeg: 25 }, diffuseLux: 0.05 };
    const all = skyLuminance([sun, moon], {}, 0.001).toward(200, 30);
    const apart = skyLuminance([sun]).toward(200, 30) + skyLuminance([moon]).toward(200, 30) + 0.001 / Math.PI;
    expect(all).toBeCloseTo(apart, 12);
  });

  it("is even where nothing but an even glow is", () => {
    const night = skyLuminance([], {}, Math.PI);
    expect(night.toward(13, 7)).toBeCloseTo(1, 12);
    expect(frameSkyLuminance(night, { azimuthDeg: 10 })).toBeCloseTo(1, 12);
  });

  it("refuses less than no light", () => {
    expect(() => skyLuminance([], {}, -1)).toThrow("evenLux:");
    expect(() => skyLuminance([{ body: { azimuthDeg: 0, altitudeDeg: 5 }, diffuseLux: Number.NaN }])).toThrow(
      "diffuseLux:",
    );
  });
});

describe("frame means", () => {
  const evening = skyLuminance([{ body: { azimuthDeg: 250, altitudeDeg: 6 }, diffuseLux: 4000 }]);

  /** Mean over the picture by a fine grid of its own, in the picture's coordinates. */
  function finely(azimuthDeg: number, pitchDeg: number, wideDeg: number, highDeg: number, floorDeg: number): number {
    let sum = 0;
    let count = 0;
    const n = 300;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const x = Math.tan((wideDeg / 2) * DEG) * ((2 * (i + 0.5)) / n - 1);
        const y = Math.tan((highDeg / 2) * DEG) * ((2 * (j + 0.5)) / n - 1);
        const ahead = Math.cos(pitchDeg * DEG) - y * Math.sin(pitchDeg * DEG);
        const up = Math.sin(pitchDeg * DEG) + y * Math.cos(pitchDeg * DEG);
        const altitude = Math.atan2(up, Math.hypot(x, ahead)) / DEG;
        if (altitude <= floorDeg) continue;
        sum += evening.toward(azimuthDeg + Math.atan2(x, ahead) / DEG, altitude);
        count++;
      }
    }
    return sum / count;
  }

  it.each([
    [250, 0, 54, 38],
    [225, 5, 90, 65],
    [70, -8, 54, 38],
    [250, 25, 100, 80],
    [160, 40, 20, 14],
  ])("agree with a fine grid over the picture: azimuth %s, pitch %s, %s by %s", (azimuthDeg, pitchDeg, wide, high) => {
    const mean = frameSkyLuminance(evening, {
      azimuthDeg,
      pitchDeg,
      horizontalAngleDeg: wide,
      verticalAngleDeg: high,
    }) as number;
    expect(Math.abs(Math.log2(mean / finely(azimuthDeg, pitchDeg, wide, high, 0)))).toBeLessThan(0.06);
  });

  it("take only what is above the skyline", () => {
    const mean = frameSkyLuminance(evening, { azimuthDeg: 250, skylineAltitudeDeg: 8 }) as number;
    // the skyline is a level line in the picture here, an arc of one altitude in the grid
    expect(Math.abs(Math.log2(mean / finely(250, 0, 54, 38, 8)))).toBeLessThan(0.1);
    expect(mean).toBeLessThan(frameSkyLuminance(evening, { azimuthDeg: 250 }) as number);
  });

  it("say so where there is none", () => {
    expect(frameSkyLuminance(evening, { azimuthDeg: 0, pitchDeg: -60 })).toBeUndefined();
    expect(frameSkyLuminance(evening, { azimuthDeg: 0, skylineAltitudeDeg: 60 })).toBeUndefined();
    expect(frameMeanBelowHorizon(() => 1, { azimuthDeg: 0, pitchDeg: 60 })).toBeUndefined();
  });

  it("ask below the horizon by depression", () => {
    const depressions: number[] = [];
    const camera = { azimuthDeg: 30, pitchDeg: -10, horizontalAngleDeg: 40, verticalAngleDeg: 30 };
    const mean = frameMeanBelowHorizon((_east, _north, up) => {
      depressions.push(-Math.asin(up) / DEG);
      return -Math.asin(up) / DEG;
    }, camera);
    expect(Math.min(...depressions)).toBeGreaterThan(0);
    expect(Math.max(...depressions)).toBeLessThan(25);
    expect(mean).toBeCloseTo(12, 0);
  });

  it.each([
    [{ azimuthDeg: Number.NaN }, "camera.azimuthDeg"],
    [{ azimuthDeg: 0, pitchDeg: 91 }, "camera.pitchDeg"],
    [{ azimuthDeg: 0, horizontalAngleDeg: 180 }, "camera.horizontalAngleDeg"],
    [{ azimuthDeg: 0, verticalAngleDeg: 0 }, "camera.verticalAngleDeg"],
    [{ azimuthDeg: 0, skylineAltitudeDeg: 90 }, "camera.skylineAltitudeDeg"],
  ])("refuse %j by its name", (camera, param) => {
    expect(() => frameSkyLuminance(evening, camera)).toThrow(DomainError);
    expect(() => frameSkyLuminance(evening, camera)).toThrow(`${param}:`);
  });
});

describe("the standard's table", () => {
  it("has fifteen types, each in its place", () => {
    expect(CIE_SKIES.map(({ type }) => type)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15]);
  });

  it.each([0, 16, 1.5, Number.NaN])("refuses type %s", (type) => {
    const zenith = { azimuthDeg: 0, altitudeDeg: 90 };
    expect(() => relativeSkyLuminance(type, zenith, zenith)).toThrow("skyType:");
  });
});

describe("fresnelReflectance", () => {
  it("is within 0 and 1, s at least p, and grows toward grazing in s", () => {
    const incidences = fc.double({ min: 0, max: 90, noNaN: true });
    fc.assert(
      fc.property(incidences, incidences, fc.double({ min: 1, max: 4, noNaN: true }), (a, b, n) => {
        const near = fresnelReflectance(Math.min(a, b), n);
        const far = fresnelReflectance(Math.max(a, b), n);
        expect(near.p).toBeGreaterThanOrEqual(0);
        expect(near.s).toBeGreaterThanOrEqual(near.p - 1e-12);
        expect(far.s).toBeLessThanOrEqual(1 + 1e-12);
        expect(far.s).toBeGreaterThanOrEqual(near.s - 1e-12);
      }),
    );
  });

  it("has no p at the polarizing angle", () => {
    for (const n of [1.333, 1.34, 1.5]) expect(fresnelReflectance(polarizingAngleDeg(n), n).p).toBeCloseTo(0, 12);
  });
});
