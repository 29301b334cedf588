import { parseShutter } from "@fieldstop/core/exposure";
import {
  attenuationFromStops,
  type Filter,
  filterGrades,
  readFilter,
  stackFilters,
  stopsAsMarked,
  stopsFromDensity,
  stopsFromFactor,
} from "@fieldstop/core/filters";
import { describe, expect, it } from "vitest";
import rows from "./filters.json";

interface Row {
  readonly id: string;
  readonly group: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: unknown;
  readonly tolerance: number | { readonly relative?: number; readonly absolute?: number };
  readonly source: string;
}

const all = rows as unknown as readonly Row[];
const EXPECTED_COUNTS: Readonly<Record<string, number>> = { nd: 146, stack: 12, factor: 10 };
const EXPECTED_KINDS: Readonly<Record<string, number>> = {
  "nd.nominal.stops": 14,
  "nd.nominal.factor": 14,
  "nd.nominal.transmittance": 14,
  "nd.stops2factor": 17,
  "nd.stops2transmittance": 17,
  "nd.densities": 2,
  "nd.third": 14,
  "nd.grade.exactStops": 22,
  "nd.grade.nominalStops": 22,
  "nd.time": 10,
};

function each(name: string, check: (row: Row) => void): void {
  const found = all.filter((row) => row.group === name);
  if (found.length !== EXPECTED_COUNTS[name]) throw new Error(`${name}: ${found.length} rows`);
  it.each(found.map((row) => [row.id, row] as const))("%s", (_, row) => check(row));
}

function expectClose(actual: number, { expected, tolerance }: Row): void {
  const allowed =
    typeof tolerance === "number"
      ? tolerance
      : (tolerance.absolute ?? (tolerance.relative as number) * Math.abs(expected as number));
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(allowed);
}

/** As many digits as the printed number has: the answer, rounded likewise, must be the printed one. */
function expectPrinted(actual: number, expected: unknown): void {
  const decimals = String(expected).split(".")[1]?.length ?? 0;
  expect(Number(actual.toFixed(decimals))).toBe(expected);
}

const num = (value: unknown): number => value as number;
const nd = (stops: number): Filter => ({ kind: "nd", stops });

describe("golden rows", () => {
  it("are all here, each with a source", () => {
    const counts: Record<string, number> = {};
    for (const row of all) counts[row.group] = (counts[row.group] ?? 0) + 1;
    expect(counts).toEqual(EXPECTED_COUNTS);
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const row of all) expect(row.source.length, row.id).toBeGreaterThan(5);
  });
});

describe("nd", () => {
  const seen: Record<string, number> = {};
  const kindOf = (id: string): string =>
    Object.keys(EXPECTED_KINDS).find((kind) => id.startsWith(`${kind}.`)) ?? "nd.densities";

  each("nd", (row) => {
    const { inputs, expected } = row;
    const kind = kindOf(row.id);
    seen[kind] = (seen[kind] ?? 0) + 1;
    const density = num(inputs["opticalDensityNominal"]);
    switch (kind) {
      case "nd.nominal.stops": {
        expectClose(stopsFromDensity(density), row);
        expect(readFilter({ kind: "nd", density }).markedStops).toBeCloseTo(num(expected), 12);
        break;
      }
      case "nd.nominal.factor": {
        expectClose(attenuationFromStops(stopsFromDensity(density)).factor, row);
        expect(filterGrades).toContainEqual(expect.objectContaining({ markedDensity: density, factor: expected }));
        break;
      }
      case "nd.nominal.transmittance": {
        expectPrinted(attenuationFromStops(stopsFromFactor(num(inputs["factor"]))).transmittancePercent, expected);
        break;
      }
      case "nd.stops2factor": {
        expect(attenuationFromStops(num(inputs["stops"])).factor).toBe(expected);
        break;
      }
      case "nd.stops2transmittance": {
        expectClose(attenuationFromStops(num(inputs["stops"])).transmittancePercent, row);
        break;
      }
      case "nd.densities": {
        expectPrinted(stopsFromDensity(num(inputs["opticalDensity"])), expected);
        break;
      }
      case "nd.third": {
        expectClose(stopsFromDensity(density), row);
        // the printed 13 of density 4 is cut off, not rounded
        if (density !== 4) expectPrinted(stopsAsMarked(stopsFromDensity(density)), expected);
        break;
      }
      case "nd.grade.exactStops": {
        expectPrinted(num(filterGrades.find(({ grade }) => grade === inputs["grade"])?.stops), expected);
        break;
      }
      case "nd.grade.nominalStops": {
        expectPrinted(num(filterGrades.find(({ grade }) => grade === inputs["grade"])?.markedStops), expected);
        break;
      }
      case "nd.time": {
        const stops = num(inputs["stops"]);
        if (typeof inputs["baseShutterNominal"] === "string") {
          const mark = parseShutter(inputs["baseShutterNominal"]);
          for (const baseShutterSeconds of [mark.seconds, mark.nominalSeconds]) {
            expect(stackFilters({ filters: [nd(stops)], baseShutterSeconds }).shutter?.nominal).toBe(expected);
          }
        } else {
          const baseShutterSeconds = num(inputs["baseSeconds"]);
          const seconds = num(stackFilters({ filters: [nd(stops)], baseShutterSeconds }).shutter?.seconds);
          // the rows print six decimals, the last of which is rounded
          expect(Math.abs(seconds - num(expected))).toBeLessThanOrEqual(Math.max(1e-6 * num(expected), 5.1e-7));
        }
        break;
      }
      default:
        throw new Error(`no check for ${row.id}`);
    }
  });

  it("leaves none out", () => expect(seen).toEqual(EXPECTED_KINDS));
});

describe("stack", () => {
  each("stack", (row) => {
    const { stops, densities, factors, ndStops, polarizerStops } = row.inputs;
    if (Array.isArray(stops)) {
      return expectClose(stackFilters({ filters: stops.map(nd) }).attenuationStops, row);
    }
    if (Array.isArray(densities)) {
      const filters = densities.map((density: number): Filter => ({ kind: "nd", density }));
      const { density, factor, attenuationStops } = stackFilters({ filters });
      const expected = row.expected as { density: number; factor: number; stops: number };
      expect(density).toBeCloseTo(expected.density, 12);
      expectPrinted(factor, expected.factor);
      return expectPrinted(attenuationStops, expected.stops);
    }
    if (Array.isArray(factors)) {
      const filters = factors.map((factor: number): Filter => ({ kind: "nd", factor }));
      return expectClose(stackFilters({ filters }).factor, row);
    }
    const filters: Filter[] = [nd(num(ndStops)), { kind: "polarizer", lossStops: num(polarizerStops) }];
    return expectClose(stackFilters({ filters }).attenuationStops, row);
  });
});

describe("factor", () => {
  each("factor", (row) => {
    const stops = stopsFromFactor(num(row.inputs["filterFactor"]));
    expectClose(stops, row);
    expectPrinted(stopsAsMarked(stops), row.expected);
  });
});
