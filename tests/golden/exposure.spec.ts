import { planBracket } from "@fieldstop/core/bracketing";
import {
  apertureSeries,
  apertureValue,
  ev100FromIlluminance,
  ev100FromLuminance,
  evAtIso,
  exposureValue,
  footcandlesFromIlluminance,
  footlambertsFromLuminance,
  illuminanceFromEv100,
  isoDegrees,
  luminanceFromEv100,
  METER_CONSTANT_C,
  nearestShutterMark,
  parseShutter,
  readAperture,
  readIso,
  SCENE_EXPOSURES,
  type SeriesStep,
  SUNNY_16,
  shutterSeries,
  solveExposure,
  speedValue,
  timeValue,
} from "@fieldstop/core/exposure";
import { describe, expect, it } from "vitest";
import rows from "./exposure.json";

interface Row {
  readonly id: string;
  readonly group: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: unknown;
  readonly tolerance: number | { readonly relative: number };
  readonly derivation: string;
  readonly source: string;
  readonly sourceKind: string;
}

const all = rows as unknown as readonly Row[];
const EXPECTED_COUNTS: Readonly<Record<string, number>> = {
  apex: 56,
  ev: 17,
  evtime: 70,
  evlum: 48,
  evfl: 20,
  evlux: 47,
  evfc: 19,
  meter: 4,
  evIso: 5,
  series: 147,
  iso: 21,
  scene: 39,
  sunny16: 10,
  bracket: 18,
};

function group(name: string): readonly Row[] {
  const found = all.filter((row) => row.group === name);
  if (found.length !== EXPECTED_COUNTS[name]) throw new Error(`${name}: ${found.length} rows`);
  return found;
}

function each(name: string, check: (row: Row) => void): void {
  it.each(group(name).map((row) => [row.id, row] as const))("%s", (_, row) => check(row));
}

function expectClose(actual: number, { expected, tolerance }: Row): void {
  const allowed = typeof tolerance === "number" ? tolerance : tolerance.relative * Math.abs(expected as number);
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(allowed);
}

/** As many digits as the printed number has: the answer, rounded likewise, must be the printed one. */
function expectPrinted(actual: number, { expected }: Row): void {
  const decimals = String(expected).split(".")[1]?.length ?? 0;
  expect(Number(actual.toFixed(decimals))).toBe(expected);
}

const num = (value: unknown): number => value as number;

describe("golden rows", () => {
  it("are all here, each with a source", () => {
    const counts: Record<string, number> = {};
    for (const row of all) counts[row.group] = (counts[row.group] ?? 0) + 1;
    expect(counts).toEqual(EXPECTED_COUNTS);
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const row of all) expect(row.source.length, row.id).toBeGreaterThan(5);
  });
});

describe("apex", () => {
  each("apex", (row) => {
    const { fNumberNominal, shutterNominal, iso, seconds } = row.inputs;
    if (row.id.startsWith("apex.av")) {
      // the mark itself is within the printed tolerance, what it stands for is exact
      expectClose(apertureValue(num(fNumberNominal)), row);
      expect(apertureValue(readAperture(num(fNumberNominal)).exact)).toBeCloseTo(num(row.expected), 12);
    } else if (row.id.startsWith("apex.nominalToExactN")) {
      expectClose(readAperture(num(fNumberNominal)).exact, row);
    } else if (row.id.startsWith("apex.tv")) {
      expectClose(timeValue(num(seconds)), row);
      expect(timeValue(parseShutter(String(shutterNominal)).seconds)).toBeCloseTo(num(row.expected), 12);
    } else if (row.id.startsWith("apex.nominalToExactT")) {
      expectClose(parseShutter(String(shutterNominal)).seconds, row);
    } else {
      expect(row.id).toMatch(/^apex\.sv/);
      expectClose(speedValue(num(iso)), row);
    }
  });
});

describe("ev", () => {
  each("ev", (row) => {
    const { fNumber, seconds, fNumberNominal, shutterNominal } = row.inputs;
    if (fNumber !== undefined) return expectClose(exposureValue(num(fNumber), num(seconds)), row);
    const exact = exposureValue(readAperture(num(fNumberNominal)).exact, parseShutter(String(shutterNominal)).seconds);
    expect(exact).toBe(row.expected);
  });
});

describe("evtime", () => {
  each("evtime", (row) => {
    const { shutter } = solveExposure({
      ev100: num(row.inputs["ev"]),
      aperture: num(row.inputs["fNumberNominal"]),
      iso: 100,
    });
    expectClose(shutter.seconds, row);
    // the printed figure is the mark, digit for digit
    expect(shutter.nominalSeconds).toBeCloseTo(num(row.expected), 12);
    expect(shutter.offsetStops).toBeCloseTo(0, 9);
  });
});

describe("evlum", () => {
  each("evlum", (row) => {
    const { ev100, K } = row.inputs;
    const luminance = luminanceFromEv100(num(ev100), num(K));
    if (row.derivation === "tabulated") expectPrinted(luminance, row);
    else expectClose(luminance, row);
    expect(ev100FromLuminance(luminance, num(K))).toBeCloseTo(num(ev100), 12);
  });
});

describe("evfl", () => {
  each("evfl", (row) => {
    const { ev100, K } = row.inputs;
    expectPrinted(footlambertsFromLuminance(luminanceFromEv100(num(ev100), num(K))), row);
  });
});

describe("evlux", () => {
  each("evlux", (row) => {
    const { ev100, C } = row.inputs;
    const illuminance = illuminanceFromEv100(num(ev100), num(C));
    if (row.derivation === "tabulated") expectPrinted(illuminance, row);
    else expectClose(illuminance, row);
    expect(ev100FromIlluminance(illuminance, num(C))).toBeCloseTo(num(ev100), 12);
  });
});

describe("evfc", () => {
  each("evfc", (row) => {
    const { ev100, C } = row.inputs;
    expectPrinted(footcandlesFromIlluminance(illuminanceFromEv100(num(ev100), num(C))), row);
  });
});

describe("meter", () => {
  each("meter", (row) => {
    const { fNumber, seconds, iso, C } = row.inputs;
    if (row.id === "meter.C.hemi.range") {
      const { min, max } = METER_CONSTANT_C.hemispherical;
      return expect([min, max]).toEqual(row.expected);
    }
    const ev100 = exposureValue(num(fNumber), num(seconds)) - Math.log2(num(iso) / 100);
    expectClose(illuminanceFromEv100(ev100, num(C)), row);
  });
});

describe("evIso", () => {
  each("evIso", (row) => expectClose(evAtIso(num(row.inputs["ev100"]), num(row.inputs["iso"])), row));
});

describe("series", () => {
  const STEPS: Readonly<Record<string, SeriesStep>> = { full: "full", half: "half", third: "third" };
  each("series", (row) => {
    const { id, inputs, expected } = row;
    if (id === "series.aperture.quarter") {
      // quarters are no series of ours; the whole stops among them must still be marks
      const whole = apertureSeries("full").map(({ value }) => value);
      expect((expected as number[]).filter((value) => whole.includes(value))).toEqual([2, 2.8, 4, 5.6, 8, 11, 16, 22]);
    } else if (id === "series.aperture.third.above2.8") {
      const marks = apertureSeries("third").map(({ value }) => value);
      const start = marks.indexOf(num(inputs["start"])) + 1;
      expect(marks.slice(start, start + 9)).toEqual(expected);
    } else if (Array.isArray(expected) && id.startsWith("series.aperture")) {
      const marks = apertureSeries(STEPS[String(inputs["step"])]).map(({ value }) => value);
      const start = marks.indexOf(num(expected[0]));
      expect(marks.slice(start, start + expected.length)).toEqual(expected);
    } else if (Array.isArray(expected)) {
      const marks = shutterSeries(STEPS[String(inputs["step"])]).map(({ text }) => text.replace(" s", ""));
      const start = marks.indexOf(String(expected[0]));
      expect(marks.slice(start, start + expected.length)).toEqual(expected);
    } else if (id.startsWith("series.aperture.third.exact")) {
      expectClose(readAperture(num(inputs["nominal"]), "third").exact, row);
    } else if (id.startsWith("series.aperture.half.exact")) {
      expectClose(readAperture(num(inputs["nominal"]), "half").exact, row);
    } else if (id.startsWith("series.shutter.third.exact")) {
      expect(parseShutter(String(inputs["nominal"]), "third").origin).toBe("mark");
      // the rows print nine decimals, the last of which is rounded
      const exact = parseShutter(String(inputs["nominal"]), "third").seconds;
      expect(Math.abs(exact - num(expected))).toBeLessThanOrEqual(Math.max(1e-6 * num(expected), 5.1e-10));
      expect(nearestShutterMark(exact).text).toBe(`${inputs["nominal"]} s`);
    } else {
      expect(id).toMatch(/^series\.iso\.exact/);
      expectClose(readIso(num(inputs["nominal"]), "third").exact, row);
    }
  });
});

describe("iso", () => {
  each("iso", (row) => expect(isoDegrees(num(row.inputs["iso"]))).toBe(row.expected));
});

describe("scene", () => {
  each("scene", (row) => {
    const found = SCENE_EXPOSURES.filter(
      ({ category, scene }) =>
        scene === row.inputs["scene"] &&
        (row.inputs["category"] === undefined ? category === "Night sky" : category === row.inputs["category"]),
    );
    expect(found).toHaveLength(1);
    expect(found[0]?.ev100).toEqual(row.expected);
  });
  it("leaves none out", () => expect(SCENE_EXPOSURES).toHaveLength(group("scene").length));
});

describe("sunny16", () => {
  each("sunny16", (row) => {
    const { condition, fNumber, seconds, iso, from, toFNumber } = row.inputs;
    if (condition !== undefined) {
      const rule = SUNNY_16.find((each) => each.condition === condition);
      return expect(rule?.aperture).toBe(row.expected);
    }
    if (fNumber !== undefined) {
      return expectClose(exposureValue(num(fNumber), num(seconds)) - Math.log2(num(iso) / 100), row);
    }
    const start = from as { fNumber: number; shutter: string };
    const ev100 = exposureValue(readAperture(start.fNumber).exact, parseShutter(start.shutter).seconds);
    const { shutter } = solveExposure({ ev100, aperture: num(toFNumber), iso: 100 });
    expect(shutter.nominal).toBe(`${row.expected} s`);
  });
  it("leaves none out", () => expect(SUNNY_16).toHaveLength(6));
});

describe("bracket", () => {
  const camera = { aperture: 8, iso: 100, headroomStops: 3, footroomStops: 6 };
  each("bracket", (row) => {
    const { frames, stepEv, baseShutter, extraRangeEv } = row.inputs;
    if (extraRangeEv !== undefined) {
      const highlightEv100 = 3 + 9 + num(extraRangeEv);
      const plan = planBracket({ shadowEv100: 3, highlightEv100, camera, counts: "any", stepStops: num(stepEv) });
      return expect(plan.count).toBe(row.expected);
    }
    const base = parseShutter(String(baseShutter ?? "1/60")).seconds;
    const meteredEv100 = exposureValue(8, base);
    const plan = planBracket({
      shadowEv100: meteredEv100,
      highlightEv100: meteredEv100,
      meteredEv100,
      camera,
      counts: [num(frames)],
      stepStops: num(stepEv),
      overlapStops: 0,
    });
    if (baseShutter === undefined) return expectClose(plan.coverageStops - 9, row);
    expect(plan.frames.map(({ nominal }) => nominal.replace(" s", ""))).toEqual(row.expected);
  });
});
