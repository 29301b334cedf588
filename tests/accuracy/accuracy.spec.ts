import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { measures } from "./measure";
import { tolerances } from "./tolerances";

describe("accuracy", () => {
  it("has one tolerance for each measure", () => {
    expect(measures.map(({ id }) => id).sort()).toEqual(Object.keys(tolerances).sort());
  });

  it("is told in docs/accuracy.md, measure by measure, with the limit that holds it", () => {
    const page = readFileSync(new URL("../../docs/accuracy.md", import.meta.url), "utf8");
    for (const { id, subject, unit } of measures) {
      const row = page.split("\n").find((line) => line.startsWith(`| ${subject} |`));
      expect(row, `npm run accuracy -- --write adds: ${subject}`).toMatch(
        new RegExp(`\\| ${tolerances[id]?.max} \\| ${unit} \\|$`),
      );
    }
  });

  it.each(measures.map((measure) => [measure.id, measure] as const))("%s", (id, { measure }) => {
    const { rms, max, samples } = measure();
    const tolerance = tolerances[id];
    if (tolerance === undefined) throw new Error(`no tolerance for ${id}`);
    expect(samples).toBe(tolerance.samples);
    expect(max).toBeLessThanOrEqual(tolerance.max);
    if (tolerance.rms !== undefined) expect(rms).toBeLessThanOrEqual(tolerance.rms);
  });
});
