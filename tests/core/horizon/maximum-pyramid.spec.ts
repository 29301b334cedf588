import { ElevationGrid, PYRAMID_SHIFTS } from "@fieldstop/core/horizon";
import { describe, expect, it } from "vitest";
import { HIGHEST_GROUND_M, VOID_THROUGHOUT } from "../../../packages/core/src/horizon/maximum-pyramid";
import { noise } from "./grids";

const ROWS = 203;
const COLUMNS = 331;

/** Rough ground with a void half as wide as the grid, a narrow one, and single ones. */
function holed(kind: "whole metres" | "fractions"): ElevationGrid {
  const random = noise(20_261_129);
  const none = kind === "whole metres" ? -32_768 : Number.NaN;
  const heights = Array.from({ length: ROWS * COLUMNS }, (_, at) => {
    const row = Math.floor(at / COLUMNS);
    const column = at % COLUMNS;
    const isVoid = (row > 30 && row < 190 && column > 150) || (row === 9 && column < 90) || at % 2311 === 0;
    return isVoid ? none : Math.round(900 * random() - 100);
  });
  const samples = kind === "whole metres" ? Int16Array.from(heights) : Float32Array.from(heights);
  const step = 1 / 1200;
  const place = { northDeg: 57, westDeg: -10, latStepDeg: step, lonStepDeg: step };
  return new ElevationGrid({ samples, rows: ROWS, columns: COLUMNS, ...place, voidValue: none });
}

describe("the maximum pyramid", () => {
  it.each(["whole metres", "fractions"] as const)(
    "tells the highest ground, doubt and void of each block: %s",
    (kind) => {
      const grid = holed(kind);
      const { pyramid, samples } = grid;
      const found = { known: 0, doubtful: 0, void: 0 };
      PYRAMID_SHIFTS.forEach((shift, level) => {
        const width = pyramid.widths[level] as number;
        for (let top = 0; top < ROWS - 1; top += 1 << shift) {
          for (let left = 0; left < COLUMNS - 1; left += 1 << shift) {
            let highest = Number.NEGATIVE_INFINITY;
            let voids = 0;
            let nodes = 0;
            for (let row = top; row <= Math.min(ROWS - 1, top + (1 << shift)); row++) {
              for (let column = left; column <= Math.min(COLUMNS - 1, left + (1 << shift)); column++) {
                const z = samples[row * COLUMNS + column] as number;
                nodes++;
                if (Number.isNaN(z) || z === grid.voidValue) voids++;
                else highest = Math.max(highest, z);
              }
            }
            const maximum =
              pyramid.maxima[(pyramid.offsets[level] as number) + (top >> shift) * width + (left >> shift)];
            expect(maximum).toBe(voids === nodes ? VOID_THROUGHOUT : voids > 0 ? HIGHEST_GROUND_M : highest);
            found[voids === nodes ? "void" : voids > 0 ? "doubtful" : "known"]++;
          }
        }
      });
      expect(pyramid.hasVoids).toBe(true);
      expect(pyramid.highestM).toBe(HIGHEST_GROUND_M);
      for (const count of Object.values(found)) expect(count).toBeGreaterThan(20);
    },
  );
});
