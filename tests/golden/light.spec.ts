import {
  moonIlluminanceLux,
  moonPhase,
  moonPosition,
  nightGlowLux,
  type SkyPosition,
  sunIlluminanceLux,
  sunPosition,
} from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";
import { separationDeg } from "../../packages/core/src/angles";
import rows from "./light.json";

interface Row {
  readonly id: string;
  readonly group: string;
  // biome-ignore lint/suspicious/noExplicitAny: every group of rows has inputs of its own
  readonly inputs: Readonly<Record<string, any>>;
  // biome-ignore lint/suspicious/noExplicitAny: and answers of its own
  readonly expected: any;
  // biome-ignore lint/suspicious/noExplicitAny: and tolerances of its own
  readonly tolerance: any;
  readonly source: string;
}

const all = rows as unknown as readonly Row[];

/** The rows whose id matches; their number is stated, so that none is dropped in silence. */
function matching(pattern: RegExp, count: number): readonly (readonly [string, Row])[] {
  const found = all.filter(({ id }) => pattern.test(id));
  if (found.length !== count) throw new Error(`${pattern}: ${found.length} rows, not ${count}`);
  return found.map((row) => [row.id, row]);
}

const one = (id: string): Row => {
  const row = all.find((candidate) => candidate.id === id);
  if (row === undefined) throw new Error(`no row ${id}`);
  return row;
};

function withinShare(actual: number, expected: number, share: number): void {
  expect(Math.abs(actual / expected - 1), `${actual}, expected ${expected}`).toBeLessThanOrEqual(share);
}

function withinFactor(actual: number, low: number, high: number, factor: number): void {
  expect(actual).toBeGreaterThanOrEqual(low / factor);
  expect(actual).toBeLessThanOrEqual(high * factor);
}

describe("golden rows of natural light", () => {
  it("are all here, each with a source", () => {
    const counts: Record<string, number> = {};
    for (const { group } of all) counts[group] = (counts[group] ?? 0) + 1;
    expect(counts).toEqual({ es: 64, c171: 23, wiki: 5, ams: 4, illum: 2 });
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const row of all) expect(row.source.length, row.id).toBeGreaterThan(5);
  });
});

describe("the Explanatory Supplement", () => {
  it.each(matching(/^es\.(sun|moon)\.coef\./, 9))("%s: the printed polynomial", (id, { inputs, expected }) => {
    const light = (altitude: number): number =>
      id.startsWith("es.sun") ? sunIlluminanceLux(altitude) : moonIlluminanceLux(altitude, 0);
    const [from, to] = inputs["altitudeRangeDeg"] as [number, number];
    const [a, b, c, d] = expected as [number, number, number, number];
    const printed = (altitude: number): number => {
      const x = altitude / 90;
      return 10 ** (a + b * x + c * x * x + d * x ** 3);
    };
    let farthest = 0;
    for (let i = 0; i <= 200; i++) {
      const altitude = from + ((to - from) * i) / 200;
      farthest = Math.max(farthest, Math.abs(Math.log2(light(altitude) / printed(altitude))));
    }
    // where two pieces meet the light is led from one into the other
    expect(farthest).toBeLessThan(0.025);
    withinShare(light((from + to) / 2), printed((from + to) / 2), 1e-12);
  });

  it.each(matching(/^es\.sun\.E\./, 39))("%s", (_, { inputs, expected, tolerance }) => {
    withinShare(sunIlluminanceLux(inputs["sunAltitudeDeg"]), expected, tolerance.relative);
  });

  it.each(matching(/^es\.moon\.(full|phase)\./, 16))("%s", (_, { inputs, expected, tolerance }) => {
    withinShare(moonIlluminanceLux(inputs["moonAltitudeDeg"], inputs["phaseAngleDeg"]), expected, tolerance.relative);
  });
});

describe("Circular 171", () => {
  it.each(matching(/^c171\.sun\./, 21))("%s", (_, { inputs, expected, tolerance }) => {
    const stops = Math.log2(sunIlluminanceLux(inputs["sunTrueAltitudeDeg"]) / expected);
    expect(Math.abs(stops)).toBeLessThanOrEqual(tolerance.stops);
  });

  it.each(matching(/^c171\.test/, 2))("%s", (_, { inputs, expected, tolerance }) => {
    const { lat: latitude, lon: longitude } = inputs as { lat: number; lon: number };
    const ms =
      inputs["utc"] === undefined
        ? Date.parse(`${inputs["localMeanTime"]}Z`) - (longitude / 15) * 3_600_000
        : Date.parse(inputs["utc"]);
    const sun = sunPosition(ms, { latitude, longitude });
    const moon = moonPosition(ms, { latitude, longitude });
    // as directions, since the azimuth of a body overhead says little
    const off = (found: SkyPosition, azimuthDeg: number, altitudeDeg: number): number =>
      separationDeg(found.azimuthDeg, found.altitudeDeg, azimuthDeg, altitudeDeg);
    expect(off(sun, expected.sunAzimuthDeg, expected.sunAltitudeDeg)).toBeLessThanOrEqual(tolerance.deg);
    expect(off(moon, expected.moonAzimuthDeg, expected.moonAltitudeDeg)).toBeLessThanOrEqual(tolerance.deg);
    const percent = 100 * moonPhase(ms).illuminatedFraction;
    expect(Math.abs(percent - expected.moonPercent)).toBeLessThanOrEqual(tolerance.percent);
    const stops = Math.log2(sunIlluminanceLux(sun.trueAltitudeDeg) / expected.sunIlluminance);
    expect(Math.abs(stops)).toBeLessThanOrEqual(tolerance.stops);
  });
});

describe("twilight limits and orders of magnitude", () => {
  it.each(matching(/^ams\.twilight\./, 4))("%s", (_, { inputs, expected, tolerance }) => {
    const [low, high] = expected as [number, number];
    withinFactor(sunIlluminanceLux(inputs["sunAltitudeDeg"]), low, high, tolerance.factor);
  });

  it("has sunlight, moonlight and starlight of the measured size", () => {
    const { expected, tolerance } = one("illum.spitschan");
    withinFactor(sunIlluminanceLux(60), expected.sunlight, expected.sunlight, tolerance.factor);
    withinFactor(moonIlluminanceLux(60, 0), expected.moonlight, expected.moonlight, tolerance.factor);
    withinFactor(nightGlowLux, expected.starlight, expected.starlight, tolerance.factor);
    const lux = 1 / 0.3048 ** 2;
    const feet = one("illum.biberman");
    withinFactor(
      sunIlluminanceLux(70),
      feet.expected.noonSun * lux,
      feet.expected.noonSun * lux,
      feet.tolerance.factor,
    );
    withinFactor(
      moonIlluminanceLux(60, 0),
      feet.expected.fullMoon * lux,
      feet.expected.fullMoon * lux,
      feet.tolerance.factor,
    );
    withinFactor(
      nightGlowLux,
      feet.expected.clearMoonless * lux,
      feet.expected.clearMoonless * lux,
      feet.tolerance.factor,
    );
  });

  it.each(matching(/^wiki\.oom\./, 5))("%s", (_, { inputs, expected, tolerance }) => {
    const light: Readonly<Record<string, number>> = {
      "Starlight clear, including airglow": nightGlowLux,
      "Quarter moon": moonIlluminanceLux(30, 90),
      "Full moon, clear": moonIlluminanceLux(70, 0),
      "Sunrise/sunset clear": sunIlluminanceLux(-50 / 60),
      "Brightest sunlight": sunIlluminanceLux(80),
    };
    withinFactor(light[inputs["condition"]] as number, expected, expected, tolerance.factor);
  });
});
