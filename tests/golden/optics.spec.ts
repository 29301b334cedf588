import {
  airyDiameterUm,
  angleOfView,
  apertureOfAiryDiameter,
  circleOfConfusionOfDiagonal,
  circleOfConfusionOnPrint,
  focusBetweenM,
  hyperfocalDistanceM,
  imageSizeMm,
  readSensor,
  sharpLimits,
  type ThinLens,
} from "@fieldstop/core/optics";
import { describe, expect, it } from "vitest";
import rows from "./optics.json";

interface Row {
  readonly id: string;
  readonly group: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: unknown;
  readonly tolerance: number | { readonly relative: number };
  readonly source: string;
}

const all = rows as unknown as readonly Row[];
const EXPECTED_COUNTS: Readonly<Record<string, number>> = {
  hyper: 9,
  dof: 53,
  coc: 13,
  format: 8,
  aov: 48,
  airy: 21,
  diff: 9,
  tele: 1,
};

function each(name: string, check: (row: Row) => void): void {
  const found = all.filter((row) => row.group === name);
  if (found.length !== EXPECTED_COUNTS[name]) throw new Error(`${name}: ${found.length} rows`);
  it.each(found.map((row) => [row.id, row] as const))("%s", (_, row) => check(row));
}

function expectClose(actual: number, { expected, tolerance }: Row): void {
  const allowed = typeof tolerance === "number" ? tolerance : tolerance.relative * Math.abs(expected as number);
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(allowed);
}

/** As many digits as the printed number has: the answer, rounded likewise, must be the printed one. */
function expectPrinted(actual: number, expected: unknown): void {
  const decimals = String(expected).split(".")[1]?.length ?? 0;
  expect(Number(actual.toFixed(decimals))).toBe(expected);
}

const num = (value: unknown): number => value as number;
const MM_PER_INCH = 25.4;
const MM_PER_FOOT = 304.8;

function lensOf(inputs: Row["inputs"]): ThinLens {
  const mm = (name: string): number =>
    inputs[`${name}In`] === undefined ? num(inputs[`${name}Mm`]) : num(inputs[`${name}In`]) * MM_PER_INCH;
  return { focalLengthMm: mm("focal"), aperture: num(inputs["N"]), circleOfConfusionMm: mm("coc") };
}

describe("golden rows", () => {
  it("are all here, each with a source", () => {
    const counts: Record<string, number> = {};
    for (const row of all) counts[row.group] = (counts[row.group] ?? 0) + 1;
    expect(counts).toEqual(EXPECTED_COUNTS);
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const row of all) expect(row.source.length, row.id).toBeGreaterThan(5);
  });
});

describe("hyper", () => {
  each("hyper", (row) => {
    const lens = lensOf(row.inputs);
    const { definition, ask, focusMm } = row.inputs;
    const limits = focusMm === undefined ? undefined : sharpLimits(lens, num(focusMm) / 1000);
    if (ask === "near") return expectClose(num(limits?.nearM) * 1000, row);
    if (ask === "far") return expectClose(num(limits?.far.distanceM) * 1000, row);
    if (definition === "f^2/(N c) + f") return expectPrinted(hyperfocalDistanceM(lens) * 1000, row.expected);
    expect(definition).toBe("f^2/(N c)");
    // this definition is the near limit when focused far away, and one focal length short of ours
    const nearMm = sharpLimits(lens, "infinity").nearM * 1000;
    expect(hyperfocalDistanceM(lens) * 1000 - nearMm).toBeCloseTo(lens.focalLengthMm, 6);
    return expectPrinted(row.inputs["focalIn"] === undefined ? nearMm : nearMm / MM_PER_FOOT, row.expected);
  });
});

describe("dof", () => {
  const NAVY: ThinLens = { focalLengthMm: 6.1 * MM_PER_INCH, aperture: 2.8, circleOfConfusionMm: 0.002 * MM_PER_INCH };
  const seen = { exact: 0, approx: 0, navy: 0 };

  each("dof", (row) => {
    if (row.id.startsWith("dof.navy")) {
      seen.navy++;
      const { nearM, far } = sharpLimits(NAVY, (10 * MM_PER_FOOT) / 1000);
      const feet = (metres: number): number => (metres * 1000) / MM_PER_FOOT;
      if (row.id === "dof.navy.hyper") return expectClose(feet(sharpLimits(NAVY, "infinity").nearM), row);
      if (row.id === "dof.navy.near") return expectPrinted(feet(nearM), row.expected);
      if (row.id === "dof.navy.far") return expectPrinted(feet(num(far.distanceM)), row.expected);
      // the source takes the difference of its rounded limits
      if (row.id === "dof.navy.depth") {
        const depth = Number(feet(num(far.distanceM)).toFixed(1)) - Number(feet(nearM).toFixed(1));
        return expect(depth).toBeCloseTo(num(row.expected), 12);
      }
      return expectClose(focusBetweenM(num(row.inputs["nearFt"]), num(row.inputs["farFt"])), row);
    }
    const lens = lensOf(row.inputs);
    const focusMm = num(row.inputs["focusMm"]);
    const { nearM, far } = sharpLimits(lens, focusMm / 1000);
    const isNear = row.id.includes(".near.");
    if (row.id.startsWith("dof.exact")) {
      seen.exact++;
      if (isNear) return expectPrinted(nearM * 1000, row.expected);
      if (row.expected === null) return expect(far).toEqual({ kind: "infinity", distanceM: null });
      return expectPrinted(num(far.distanceM) * 1000, row.expected);
    }
    // the approximations leave one focal length out of a sum; put back, they must be ours
    seen.approx++;
    const reach = lens.focalLengthMm ** 2 / (lens.aperture * lens.circleOfConfusionMm);
    const f = lens.focalLengthMm;
    if (isNear) return expectClose((nearM * 1000 * (reach + focusMm - f)) / (reach + focusMm), row);
    if (row.expected === null) return expect(far.kind).toBe("infinity");
    return expectClose((num(far.distanceM) * 1000 * (reach - focusMm + f)) / (reach - focusMm), row);
  });

  it("leaves none out", () => expect(seen).toEqual({ exact: 24, approx: 24, navy: 5 }));
});

describe("coc", () => {
  each("coc", (row) => {
    const { widthMm, heightMm, divisor, finalImageCocMm, viewingDistanceCm } = row.inputs;
    if (divisor !== undefined) {
      expect(divisor).toBe(1500);
      const { diagonalMm } = readSensor({ widthMm: num(widthMm), heightMm: num(heightMm) });
      return expectPrinted(circleOfConfusionOfDiagonal(diagonalMm), row.expected);
    }
    expect(finalImageCocMm).toBe(row.expected);
    return expect(circleOfConfusionOnPrint(num(viewingDistanceCm) * 10)).toBe(row.expected);
  });
});

describe("format", () => {
  each("format", (row) => {
    const { widthMm, heightMm } = row.inputs;
    const { diagonalMm, cropFactor } = readSensor({ widthMm: num(widthMm), heightMm: num(heightMm) });
    if (row.id.startsWith("format.diagonal")) return expectPrinted(diagonalMm, row.expected);
    expect(row.id).toMatch(/^format\.crop/);
    return expectPrinted(cropFactor, row.expected);
  });
});

describe("aov", () => {
  each("aov", (row) => {
    const { focalMm, widthMm, heightMm, axis } = row.inputs;
    const angles = angleOfView({
      sensor: { widthMm: num(widthMm), heightMm: num(heightMm) },
      focalLengthMm: num(focalMm),
    });
    const name = `${String(axis)}Deg` as "horizontalDeg" | "verticalDeg" | "diagonalDeg";
    expectPrinted(angles[name], row.expected);
  });
});

describe("airy", () => {
  each("airy", (row) => {
    const diameter = airyDiameterUm(num(row.inputs["N"]), num(row.inputs["wavelengthNm"]));
    expectPrinted(row.id.startsWith("airy.radius") ? diameter / 2 : diameter, row.expected);
  });
});

describe("diff", () => {
  each("diff", (row) => {
    const { cocMm, pixelPitchUm, wavelengthNm } = row.inputs;
    const diameterUm = cocMm === undefined ? 2 * num(pixelPitchUm) : 1000 * num(cocMm);
    expectPrinted(apertureOfAiryDiameter(diameterUm, num(wavelengthNm)), row.expected);
  });
});

describe("tele", () => {
  each("tele", (row) => {
    const { focalMm, angularDiameterDeg } = row.inputs;
    expectPrinted(imageSizeMm(num(focalMm), num(angularDiameterDeg)), row.expected);
  });
});
