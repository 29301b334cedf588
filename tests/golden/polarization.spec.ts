import { graduatedDensityWanted, leastGlareShare, polarizerTransmittance } from "@fieldstop/core/filters";
import { airPolarizationMaximum, maximumPolarization, rayleighPolarization } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";
import rows from "./polarization.json";

interface Row {
  readonly id: string;
  readonly group: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: unknown;
  readonly tolerance: number;
  readonly source: string;
}

const all = rows as unknown as readonly Row[];
const EXPECTED_COUNTS: Readonly<Record<string, number>> = { rayleigh: 25, dop: 5, glare: 6, pol: 7, grad: 5 };

function group(name: string): readonly (readonly [string, Row])[] {
  const found = all.filter((row) => row.group === name);
  if (found.length !== EXPECTED_COUNTS[name]) throw new Error(`${name}: ${found.length} rows`);
  return found.map((row) => [row.id, row]);
}

const given = (row: Row, name: string): number => {
  const value = row.inputs[name];
  if (typeof value !== "number") throw new Error(`${row.id}: no ${name}`);
  return value;
};

function expectClose(actual: number, { expected, tolerance }: Row): void {
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(tolerance);
}

describe("golden rows of polarized light", () => {
  it("are all here, each with a source", () => {
    const counts = Object.fromEntries(
      Object.keys(EXPECTED_COUNTS).map((name) => [name, all.filter((row) => row.group === name).length]),
    );
    expect(counts).toEqual(EXPECTED_COUNTS);
    expect(all).toHaveLength(48);
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    expect(all.every(({ source }) => source.length > 5)).toBe(true);
  });

  it.each(group("rayleigh"))("%s", (id, row) => {
    if (id === "rayleigh.depol.max") return expectClose(airPolarizationMaximum(given(row, "depolarizationRatio")), row);
    expectClose(rayleighPolarization(given(row, "scatteringAngleDeg"), given(row, "pMax")), row);
  });

  it.each(group("dop"))("%s", (id, row) => {
    switch (id) {
      case "dop.ams":
        // minimal turbidity: air alone, scattering once
        return expectClose(airPolarizationMaximum(), row);
      case "dop.wiki":
        // a real sky, clearer than usual
        return expectClose(maximumPolarization({ turbidity: 1.5 }), row);
      case "dop.aerosol.low":
        // measured in blue, over bright ground too, where the sky is less polarized than in the whole of the visible
        return expectClose(maximumPolarization({ turbidity: 1.4 }), { ...row, tolerance: 0.09 });
      case "dop.typical.range": {
        const [low, high] = row.expected as [number, number];
        for (const turbidity of [1.1, 1.5, 2]) {
          expect(maximumPolarization({ turbidity })).toBeGreaterThanOrEqual(low);
          expect(maximumPolarization({ turbidity })).toBeLessThanOrEqual(high);
        }
        return;
      }
      case "dop.overcast": {
        const [low, high] = row.expected as [number, number];
        const degree = maximumPolarization({ cloudCover: { low: 95, middle: 50, high: 0 } });
        expect(degree).toBeGreaterThan(low);
        return expect(degree).toBeLessThanOrEqual(high);
      }
      default:
        throw new Error(`no check for ${id}`);
    }
  });

  it.each(group("glare"))("%s", (_, row) => {
    expectClose(leastGlareShare(given(row, "incidenceDeg"), given(row, "n")), row);
  });

  it.each(group("pol"))("%s", (_, row) => {
    expectClose(polarizerTransmittance(given(row, "degreeOfPolarization"), given(row, "angleBetweenDeg")), row);
  });

  it.each(group("grad"))("%s", (_, row) => {
    const densities = row.inputs["available"] as readonly number[];
    const wanted = graduatedDensityWanted(
      given(row, "skyMinusForegroundEv"),
      given(row, "wantedResidualEv"),
      densities,
    );
    expect(wanted).toBe(row.expected);
  });
});
