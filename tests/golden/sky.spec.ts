import { CIE_SKIES, cieSky, fresnelReflectance, polarizingAngleDeg, relativeSkyLuminance } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";
import rows from "./sky.json";

interface Row {
  readonly id: string;
  readonly group: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly expected: unknown;
  readonly tolerance: number;
  readonly source: string;
}

const all = rows as unknown as readonly Row[];

/** The rows whose id begins so; their number is stated, so that none is dropped in silence. */
function starting(prefix: string, count: number): readonly (readonly [string, Row])[] {
  const found = all.filter(({ id }) => id.startsWith(prefix));
  if (found.length !== count) throw new Error(`${prefix}: ${found.length} rows, not ${count}`);
  return found.map((row) => [row.id, row]);
}

const given = (row: Row, name: string): number => {
  const value = row.inputs[name];
  if (value === undefined) throw new Error(`${row.id}: no ${name}`);
  return value;
};

function expectClose(actual: number, { expected, tolerance }: Row): void {
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(tolerance);
}

describe("golden rows of the sky", () => {
  it("are all here, each with a source", () => {
    expect(all).toHaveLength(15 + 5 + 120 + 5 + 19 + 3);
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const row of all) expect(row.source.length, row.id).toBeGreaterThan(5);
  });
});

describe("CIE standard general sky", () => {
  it.each(starting("cie.param.", 15))("%s", (_, row) => {
    const { a, b, c, d, e } = row.expected as Record<string, number>;
    expect(cieSky(given(row, "type"))).toMatchObject({ a, b, c, d, e });
    expect(CIE_SKIES[given(row, "type") - 1]).toBe(cieSky(given(row, "type")));
  });

  it.each(starting("cie.L.", 120))("%s", (_, row) => {
    const direction = { azimuthDeg: given(row, "deltaAzimuthDeg"), altitudeDeg: 90 - given(row, "ZDeg") };
    const sun = { azimuthDeg: 0, altitudeDeg: 90 - given(row, "ZsDeg") };
    expectClose(relativeSkyLuminance(given(row, "type"), direction, sun), row);
  });

  it.each(starting("cie.doc.type", 2))("%s", (_, row) => {
    const direction = { azimuthDeg: given(row, "alphaDeg"), altitudeDeg: 90 - given(row, "ZDeg") };
    const sun = { azimuthDeg: given(row, "alphaSDeg"), altitudeDeg: 90 - given(row, "ZsDeg") };
    expectClose(relativeSkyLuminance(given(row, "type"), direction, sun), row);
  });

  // the parts, read off ratios in which the rest cancels: type 1 has no indicatrix, type 12 the fourth one
  const overhead = { azimuthDeg: 0, altitudeDeg: 90 };
  const onHorizon = { azimuthDeg: 0, altitudeDeg: 0 };

  it.each(starting("cie.doc.gradation", 2))("%s", (_, row) => {
    const horizon = relativeSkyLuminance(1, onHorizon, overhead);
    if (row.id === "cie.doc.gradation0") return expectClose(1 / horizon, row);
    // φ is 1 on the horizon by definition and must come there without a step
    expectClose(relativeSkyLuminance(1, { azimuthDeg: 0, altitudeDeg: 0.5 }, overhead) / horizon, row);
  });

  it.each(starting("cie.doc.indicatrix", 1))("%s", (_, row) => {
    // f(30°)/f(90°) between two directions of one altitude, and f(90°) = 1
    const away = 90 - given(row, "chiDeg");
    const near = relativeSkyLuminance(12, { azimuthDeg: 90 - away, altitudeDeg: 0 }, onHorizon);
    const square = relativeSkyLuminance(12, { azimuthDeg: 90, altitudeDeg: 0 }, onHorizon);
    expectClose(near / square, row);
  });

  it.each(starting("cie.overcast16.", 5))("%s: type 1 is its successor, within 0.03 of the zenith", (_, row) => {
    const value = relativeSkyLuminance(1, { azimuthDeg: 0, altitudeDeg: 90 - given(row, "ZDeg") }, overhead);
    expect(Math.abs(value - (row.expected as number))).toBeLessThan(0.03);
  });
});

describe("water", () => {
  it.each(starting("fresnel.", 19))("%s", (_, row) => {
    const { s, p, mean } = fresnelReflectance(given(row, "incidenceDeg"), given(row, "n"));
    if (typeof row.expected === "number") return expectClose(mean, row);
    const { Rs, Rp, R, degreeOfPolarization } = row.expected as Record<string, number>;
    expectClose(s, { ...row, expected: Rs });
    expectClose(p, { ...row, expected: Rp });
    expectClose(mean, { ...row, expected: R });
    expectClose((s - p) / (s + p), { ...row, expected: degreeOfPolarization });
  });

  it.each(starting("brewster.", 3))("%s", (_, row) => {
    expectClose(polarizingAngleDeg(given(row, "n")), row);
  });
});
