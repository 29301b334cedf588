import { DomainError, ev100FromLuminance } from "@fieldstop/core";
import {
  type SceneLevelsRequest,
  sceneLevels,
  sceneLight,
  skyContrastByDirection,
  stillWaterLuminance,
} from "@fieldstop/core/light";
import { fresnelReflectance, refractionDeg, type SkyPosition, sunIlluminanceLux } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const at = (trueAltitudeDeg: number, azimuthDeg = 250): SkyPosition => ({
  azimuthDeg,
  trueAltitudeDeg,
  altitudeDeg: Math.min(90, trueAltitudeDeg + refractionDeg(trueAltitudeDeg)),
});
const open = { skyViewFactor: 1, directLight: true } as const;
const overcast = { cloudCover: { low: 100, middle: 0, high: 0 } };

const angle = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const positions = fc.tuple(angle(-90, 90), angle(0, 360)).map(([altitude, azimuth]) => at(altitude, azimuth));
const requests: fc.Arbitrary<SceneLevelsRequest> = fc.record(
  {
    sun: positions,
    moon: fc.tuple(positions, angle(0, 180)).map(([position, phaseAngleDeg]) => ({ ...position, phaseAngleDeg })),
    directLight: fc.boolean(),
    skyViewFactor: angle(0, 1),
    reflectance: angle(0.01, 1),
    sky: fc.record({
      cloudCover: fc.record({ low: angle(0, 100), middle: angle(0, 100), high: angle(0, 100) }),
      turbidity: angle(1, 15),
    }),
    camera: fc.record({
      azimuthDeg: angle(0, 360),
      pitchDeg: angle(-90, 90),
      horizontalAngleDeg: angle(0.001, 179.9),
      verticalAngleDeg: angle(0.001, 179.9),
      skylineAltitudeDeg: angle(-10, 89),
    }),
    subject: fc.record({ facingAzimuthDeg: angle(0, 360), slopeDeg: angle(0, 180) }),
  },
  { requiredKeys: ["sun", "directLight", "skyViewFactor"] },
);

describe("@examples", () => {
  it("hold", () => {
    const sun = { azimuthDeg: 180, altitudeDeg: 45, trueAltitudeDeg: 45 };
    expect(sceneLevels({ sun, directLight: true, skyViewFactor: 1 }).ev100.litGround).toBeCloseTo(15.12, 2);
  });
});

describe("sceneLevels", () => {
  it("gives finite levels for any scene, lit ground no darker than open shade, deep shade three stops under it", () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { ev100, contrastStops, uncertaintyStops, ...light } = sceneLevels(request);
        for (const value of Object.values(ev100)) expect(Number.isFinite(value)).toBe(true);
        expect(ev100.litGround).toBeGreaterThanOrEqual(ev100.openShade - 1e-9);
        expect(ev100.openShade - ev100.deepShade).toBeCloseTo(3, 9);
        expect(contrastStops).toBeCloseTo(ev100.sky - ev100.litGround, 9);
        expect(light.illuminanceLux).toBeCloseTo(light.directLux + light.diffuseLux, 6);
        expect(light.directLux).toBeGreaterThanOrEqual(0);
        expect(light.diffuseLux).toBeGreaterThan(0);
        expect(uncertaintyStops).toBeGreaterThanOrEqual(0.5);
        expect(uncertaintyStops).toBeLessThanOrEqual(1.5);
      }),
      { numRuns: 300 },
    );
  });

  it("keeps the total of the illuminance model under an open, clear sky", () => {
    for (const altitude of [85, 60, 30, 12, 4, 1, 0, -2, -5]) {
      const { illuminanceLux } = sceneLevels({ sun: at(altitude), ...open });
      expect(Math.abs(illuminanceLux / sunIlluminanceLux(altitude) - 1)).toBeLessThan(0.001);
    }
  });

  it("makes level ground as bright as Lambert's law has it", () => {
    const { ev100, illuminanceLux, diffuseLux } = sceneLevels({ sun: at(35), ...open, reflectance: 0.3 });
    expect(ev100.litGround).toBeCloseTo(ev100FromLuminance((0.3 * illuminanceLux) / Math.PI), 9);
    expect(ev100.openShade).toBeCloseTo(ev100FromLuminance((0.3 * diffuseLux) / Math.PI), 9);
  });

  it("takes the beam off the ground once it does not get there, and leaves the sky as it was", () => {
    const lit = sceneLevels({ sun: at(20), ...open, camera: { azimuthDeg: 250 } });
    const left = sceneLevels({ sun: at(20), skyViewFactor: 1, directLight: false, camera: { azimuthDeg: 250 } });
    expect(left.directLux).toBe(0);
    expect(left.diffuseLux).toBe(lit.diffuseLux);
    expect(left.ev100.litGround).toBe(left.ev100.openShade);
    expect(left.ev100.openShade).toBe(lit.ev100.openShade);
    expect(left.ev100.sky).toBe(lit.ev100.sky);
    expect(left.contrastStops).toBeGreaterThan(lit.contrastStops + 1);
  });

  it("dims the shade by as many stops as the sky view has lost", () => {
    const wide = sceneLevels({ sun: at(20), directLight: false, skyViewFactor: 1 });
    const narrow = sceneLevels({ sun: at(20), directLight: false, skyViewFactor: 0.25 });
    expect(wide.ev100.openShade - narrow.ev100.openShade).toBeCloseTo(2, 9);
    // even a shaft keeps a hundredth
    const shaft = sceneLevels({ sun: at(20), directLight: false, skyViewFactor: 0 });
    expect(wide.ev100.openShade - shaft.ev100.openShade).toBeCloseTo(Math.log2(100), 9);
  });

  it("lights a slope by the angle at which the beam meets it", () => {
    const sun = at(10, 250);
    const facing = (facingAzimuthDeg: number, slopeDeg: number): number =>
      sceneLevels({ sun, ...open, subject: { facingAzimuthDeg, slopeDeg } }).ev100.litGround;
    const level = sceneLevels({ sun, ...open }).ev100.litGround;
    expect(facing(77, 0)).toBeCloseTo(level, 9);
    expect(facing(250, 80)).toBeGreaterThan(level + 1);
    expect(facing(250, 80)).toBeGreaterThan(facing(250, 60));
    expect(facing(250, 80)).toBeGreaterThan(facing(200, 80));
    const away = sceneLevels({ sun, ...open, subject: { facingAzimuthDeg: 70, slopeDeg: 80 } }).ev100;
    expect(away.litGround).toBeCloseTo(away.openShade, 9);
  });

  it("never brightens as low cloud closes, except the shade and the sky, which broken cloud brightens", () => {
    let before = sceneLevels({ sun: at(40), ...open, sky: { cloudCover: { low: 0, middle: 0, high: 0 } } });
    const clear = before;
    for (let low = 5; low <= 100; low += 5) {
      const now = sceneLevels({ sun: at(40), ...open, sky: { cloudCover: { low, middle: 0, high: 0 } } });
      expect(now.illuminanceLux).toBeLessThan(before.illuminanceLux);
      expect(now.directLux).toBeLessThan(before.directLux);
      before = now;
    }
    const half = sceneLevels({ sun: at(40), ...open, sky: { cloudCover: { low: 50, middle: 0, high: 0 } } });
    expect(half.ev100.openShade).toBeGreaterThan(clear.ev100.openShade + 1);
    expect(before.directLux).toBe(0);
    expect(before.uncertaintyStops).toBe(1);
  });

  it("falls without a step from noon to night", () => {
    const level = (altitude: number): number[] => {
      const levels = sceneLevels({ sun: at(altitude), ...open, camera: { azimuthDeg: 250 } });
      return [levels.ev100.sky, levels.ev100.openShade, levels.ev100.stillWater, levels.uncertaintyStops];
    };
    let before = level(12);
    for (let altitude = 11.98; altitude > -20; altitude -= 0.02) {
      const now = level(altitude);
      now.forEach((value, i) => {
        // twilight falls by about 1.6 stops for each degree
        expect(Math.abs(value - (before[i] as number)), `part ${i} at ${altitude}`).toBeLessThan(0.06);
      });
      before = now;
    }
  });

  it("comes down to airglow when sun and moon are far below", () => {
    const night = sceneLevels({ sun: at(-40), directLight: false, skyViewFactor: 1 });
    // a natural dark sky, 21.6 to 22 mag/arcsec², is 1.7e-4 to 2.5e-4 cd/m²
    expect(night.ev100.sky).toBeGreaterThan(ev100FromLuminance(1.5e-4));
    expect(night.ev100.sky).toBeLessThan(ev100FromLuminance(7e-4));
    const deepest = sceneLevels({ sun: at(-60), directLight: false, skyViewFactor: 1 });
    expect(deepest.ev100.sky).toBeCloseTo(night.ev100.sky, 3);
    expect(night.assumptions.map(({ field }) => field)).toContain("artificialLight");
    const clouded = sceneLevels({ sun: at(-40), directLight: false, skyViewFactor: 1, sky: overcast });
    expect(night.ev100.sky - clouded.ev100.sky).toBeCloseTo(2, 9);
  });

  it("adds moonlight, its beam only where it gets there", () => {
    const dark: SceneLevelsRequest = { sun: at(-30), directLight: false, skyViewFactor: 1 };
    const full = { ...at(50, 140), phaseAngleDeg: 0 };
    const moonlit = sceneLevels({ ...dark, moon: full });
    const behindRidge = sceneLevels({ ...dark, moon: { ...full, directLight: false } });
    const quarter = sceneLevels({ ...dark, moon: { ...full, phaseAngleDeg: 90 } });
    const none = sceneLevels(dark);
    expect(moonlit.illuminanceLux).toBeGreaterThan(0.1);
    expect(moonlit.illuminanceLux).toBeLessThan(0.35);
    expect(moonlit.ev100.litGround).toBeGreaterThan(behindRidge.ev100.litGround + 1);
    expect(behindRidge.ev100.sky).toBe(moonlit.ev100.sky);
    expect(moonlit.ev100.litGround - quarter.ev100.litGround).toBeGreaterThan(2);
    expect(quarter.ev100.litGround).toBeGreaterThan(none.ev100.litGround);
    expect(behindRidge.moonDiscEv100).toBeUndefined();
    expect(moonlit.moonDiscEv100).toBeGreaterThan(13.5);
    const below = sceneLevels({ ...dark, moon: { ...at(-20), phaseAngleDeg: 0 } });
    expect(below.ev100.litGround).toBeCloseTo(none.ev100.litGround, 2);
  });

  it("reads the sky just above the skyline, and water just below the horizon, where the frame holds none, and says so", () => {
    const down = sceneLevels({ sun: at(10), ...open, camera: { azimuthDeg: 250, pitchDeg: -60 } });
    const up = sceneLevels({ sun: at(10), ...open, camera: { azimuthDeg: 250, pitchDeg: 60 } });
    const { skyLuminance } = sceneLight({ sun: at(10), ...open });
    expect(down.ev100.sky).toBeCloseTo(ev100FromLuminance(skyLuminance.toward(250, 2.5)), 9);
    expect(up.ev100.stillWater).toBeCloseTo(ev100FromLuminance(stillWaterLuminance(skyLuminance, 250, 5)), 9);
    expect(down.assumptions.map(({ field }) => field)).toContain("sky");
    expect(up.assumptions.map(({ field }) => field)).toContain("stillWater");
    const level = sceneLevels({ sun: at(10), ...open, camera: { azimuthDeg: 250 } }).assumptions;
    for (const field of ["sky", "stillWater"]) expect(level.map((one) => one.field)).not.toContain(field);
  });

  it("says what it assumed, and nothing of what it was told", () => {
    const fields = (request: SceneLevelsRequest): string[] =>
      sceneLevels(request).assumptions.map(({ field }) => field);
    expect(fields({ sun: at(30), ...open })).toEqual([
      "reflectance",
      "subject",
      "deepShade",
      "sky.cloudCover",
      "sky.turbidity",
      "camera.azimuthDeg",
    ]);
    expect(
      fields({
        sun: at(30),
        ...open,
        reflectance: 0.2,
        subject: { facingAzimuthDeg: 0, slopeDeg: 10 },
        sky: { ...overcast, turbidity: 3 },
        camera: {
          azimuthDeg: 0,
          pitchDeg: 0,
          horizontalAngleDeg: 50,
          verticalAngleDeg: 35,
          skylineAltitudeDeg: 1,
        },
      }),
    ).toEqual(["deepShade"]);
    const broken = { cloudCover: { low: 40, middle: 0, high: 0 } };
    expect(fields({ sun: at(30), ...open, sky: broken })).toContain("directLux");
    expect(fields({ sun: at(30), ...open, sky: overcast })).not.toContain("directLux");
  });

  it.each([
    [{ skyViewFactor: 1.1 }, "skyViewFactor"],
    [{ skyViewFactor: Number.NaN }, "skyViewFactor"],
    [{ reflectance: 0 }, "reflectance"],
    [{ reflectance: 1.2 }, "reflectance"],
    [{ sky: { cloudCover: { low: 0, middle: 140, high: 0 } } }, "sky.cloudCover.middle"],
    [{ sky: { turbidity: 0 } }, "sky.turbidity"],
    [{ camera: { azimuthDeg: 0, verticalAngleDeg: 180 } }, "camera.verticalAngleDeg"],
    [{ subject: { facingAzimuthDeg: 0, slopeDeg: 181 } }, "subject.slopeDeg"],
  ])("refuses %j by name", (bad, param) => {
    const refused = (): unknown => sceneLevels({ sun: at(20), ...open, ...bad });
    expect(refused).toThrow(DomainError);
    expect(refused).toThrow(`${param}:`);
  });
});

describe("still water", () => {
  it("is the sky at the same height above the horizon, by Fresnel", () => {
    const { skyLuminance } = sceneLight({ sun: at(15), ...open });
    for (const depression of [0, 2, 10, 37, 90]) {
      const expected = skyLuminance.toward(80, depression) * fresnelReflectance(90 - depression).mean;
      expect(stillWaterLuminance(skyLuminance, 80, depression)).toBeCloseTo(expected, 9);
    }
  });

  it("is darker than the sky in the frame, and the more so the steeper one looks", () => {
    const looking = (pitchDeg: number): number =>
      sceneLevels({ sun: at(15), ...open, camera: { azimuthDeg: 70, pitchDeg } }).ev100.stillWater;
    expect(looking(0)).toBeLessThan(sceneLevels({ sun: at(15), ...open, camera: { azimuthDeg: 70 } }).ev100.sky);
    expect(looking(-20)).toBeLessThan(looking(0));
    expect(looking(-40)).toBeLessThan(looking(-20));
  });
});

describe("skyContrastByDirection", () => {
  const request: SceneLevelsRequest = { sun: at(3, 250), directLight: false, skyViewFactor: 1 };

  it("has a value each 15°, the sky brightest toward the sun, and agrees with a camera that points there", () => {
    const directions = skyContrastByDirection(request);
    expect(directions.map(({ azimuthDeg }) => azimuthDeg)).toEqual(Array.from({ length: 24 }, (_, i) => 15 * i));
    const brightest = directions.reduce((a, b) => (b.skyEv100 > a.skyEv100 ? b : a));
    expect([240, 255]).toContain(brightest.azimuthDeg);
    for (const { azimuthDeg, skyEv100, contrastStops } of directions) {
      const levels = sceneLevels({ ...request, camera: { azimuthDeg } });
      expect(skyEv100).toBeCloseTo(levels.ev100.sky, 9);
      expect(contrastStops).toBeCloseTo(levels.contrastStops, 9);
    }
  });

  it("is even all round under a closed deck", () => {
    const contrasts = skyContrastByDirection({ ...request, sky: overcast }).map(({ contrastStops }) => contrastStops);
    expect(Math.max(...contrasts) - Math.min(...contrasts)).toBeLessThan(1e-9);
  });

  it("takes the lens of a camera that points nowhere yet", () => {
    const camera = { pitchDeg: 10, horizontalAngleDeg: 20, verticalAngleDeg: 14 };
    const narrow = skyContrastByDirection({ ...request, camera })[4];
    expect(narrow?.skyEv100).toBe(sceneLevels({ ...request, camera: { ...camera, azimuthDeg: 60 } }).ev100.sky);
    expect(sceneLevels({ ...request, camera }).ev100).toEqual(sceneLevels(request).ev100);
  });

  it("refuses a step out of range", () => {
    expect(() => skyContrastByDirection(request, 0)).toThrow("stepDeg:");
  });
});
