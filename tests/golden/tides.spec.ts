import { describe, expect, it } from "vitest";
import { median as medianOf } from "../median";
import { METRES_PER_FOOT, predicted, tideErrors, tideRows } from "./tide-errors";

const errors = await tideErrors();
const HOUR_MS = 3_600_000;
const median = (values: readonly number[]): number => medianOf(values.map(Math.abs));

describe("tides against printed tables", () => {
  it("has all its rows, each with a source", () => {
    expect(tideRows).toHaveLength(94);
    for (const { source, sourceKind } of tideRows) {
      expect(sourceKind).toBe("published");
      expect(source).toContain("NOAA CO-OPS");
    }
  });

  // The tables are printed in whole minutes and hundredths of a foot; flat tops of small tides move by minutes for a millimetre.
  it.each(errors.map((error) => [error.row.id, error] as const))("%s", (_, { row, minutes, metres }) => {
    const { tolerance } = row;
    expect(Math.abs(minutes)).toBeLessThanOrEqual(tolerance.minutes);
    expect(Math.abs(metres)).toBeLessThanOrEqual(tolerance.metres ?? (tolerance.feet as number) * METRES_PER_FOOT);
  });

  it.each([
    ["8722125", 31, 3],
    ["8723170", 31, 3],
    ["8722951", 12, 1],
    ["9446705", 12, 2],
  ])("has every high and low water of the tables of %s, and no other", async (station, count, pieces) => {
    const printed = tideRows
      .filter(({ inputs }) => inputs.station === station)
      .map(({ inputs, expected }) => ({
        kind: inputs.kind === "H" ? "high" : "low",
        ms: Date.parse(expected.utc),
      }));
    expect(printed).toHaveLength(count);
    // the rows are days on end, taken from several parts of the year
    const runs: (typeof printed)[] = [];
    for (const row of printed) {
      const last = runs.at(-1)?.at(-1);
      if (last === undefined || row.ms - last.ms > 12 * HOUR_MS) runs.push([row]);
      else runs.at(-1)?.push(row);
    }
    expect(runs).toHaveLength(pieces);
    for (const run of runs) {
      const [first, last] = [run[0], run.at(-1)] as [(typeof run)[number], (typeof run)[number]];
      const found = await predicted(station, first.ms - HOUR_MS, last.ms + HOUR_MS);
      expect(found.map(({ kind }) => kind)).toEqual(run.map(({ kind }) => kind));
    }
  });

  it("is off by less than a minute and half a centimetre, half of the time", () => {
    expect(median(errors.map(({ minutes }) => minutes))).toBeLessThan(1);
    expect(median(errors.map(({ metres }) => metres))).toBeLessThan(0.005);
  });
});
