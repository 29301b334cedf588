import { describe, expect, it } from "vitest";
import { answer, get, problem, refusedFields, testApp } from "./harness";

const app = testApp();

interface Listed {
  readonly tables: readonly { name: string; title: string; source: string; rowCount: number }[];
}

interface Table {
  readonly name: string;
  readonly columns: readonly { name: string; unit?: string }[];
  readonly rows: readonly Record<string, string | number>[];
}

describe("GET /v1/reference", () => {
  it("lists every table with its source", async () => {
    const { tables } = await answer<Listed>(get(app, "/v1/reference"));
    expect(tables.map(({ name }) => name)).toEqual([
      "scene-exposure-values",
      "sunny-16",
      "aperture-series",
      "shutter-series",
      "iso-series",
      "filter-grades",
      "light-by-sun-altitude",
    ]);
    for (const { source } of tables) expect(source.length).toBeGreaterThan(20);
  });

  it("serves each table that it lists, every row with a member for each column", async () => {
    const { tables } = await answer<Listed>(get(app, "/v1/reference"));
    for (const { name, rowCount } of tables) {
      const table = await answer<Table>(get(app, `/v1/reference/${name}`));
      expect(table.rows).toHaveLength(rowCount);
      expect(rowCount).toBeGreaterThan(5);
      const columns = table.columns.map((column) => column.name).sort();
      for (const row of table.rows) expect(Object.keys(row).sort()).toEqual(columns);
    }
  });

  it("has the values of the trade", async () => {
    const scenes = await answer<Table>(get(app, "/v1/reference/scene-exposure-values"));
    expect(scenes.rows).toContainEqual({
      category: "Sunsets and skylines",
      scene: "Just before sunset",
      lowEv100: 12,
      highEv100: 14,
    });
    const apertures = await answer<Table>(get(app, "/v1/reference/aperture-series"));
    expect(apertures.rows).toContainEqual({ step: "full", nominal: "f/11", nominalValue: 11, exact: 11.313708499 });
    const grades = await answer<Table>(get(app, "/v1/reference/filter-grades"));
    expect(grades.rows).toContainEqual(
      expect.objectContaining({ grade: "ND1000", markedStops: 10, stops: 9.9657842847 }),
    );
  });

  // Explanatory Supplement to the Astronomical Almanac 2013: polynomials at the constants of their pieces, 10^2.88 lx at 0°
  it("has the light by the sun's altitude", async () => {
    const { rows } = await answer<Table>(get(app, "/v1/reference/light-by-sun-altitude"));
    const horizon = rows.find((row) => row["altitudeDeg"] === 0);
    expect(horizon?.["illuminanceLux"]).toBeCloseTo(10 ** 2.88, 0);
    expect(horizon?.["ev100"]).toBeCloseTo(Math.log2(10 ** 2.88 / 2.5), 2);
    const levels = rows.map((row) => row["ev100"] as number);
    expect(levels).toEqual([...levels].sort((a, b) => a - b));
    expect(rows.map((row) => row["altitudeDeg"])).toEqual([
      ...Array.from({ length: 29 }, (_, i) => i - 18),
      15,
      20,
      25,
      30,
      35,
      40,
      45,
      50,
      55,
      60,
      65,
      70,
      75,
      80,
      85,
      90,
    ]);
  });

  it("answers 404 for a table that does not exist, and names those that do", async () => {
    const { detail } = await problem(get(app, "/v1/reference/constructor"), 404);
    expect(detail).toContain("scene-exposure-values");
  });

  it("refuses a query that it does not know", async () => {
    expect(await refusedFields(get(app, "/v1/reference", { step: "third" }))).toEqual(["query:step"]);
    expect(await refusedFields(get(app, "/v1/reference/sunny-16", { step: "third" }))).toEqual(["query:step"]);
  });
});
