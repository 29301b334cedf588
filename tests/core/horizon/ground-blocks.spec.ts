import { ElevationGrid, GROUND_BLOCK_SHIFT, HorizonScanner, pyramidLayout, scanHorizon } from "@fieldstop/core/horizon";
import { describe, expect, it } from "vitest";
import { gridOf, hills, noise } from "./grids";

const SIDE = 1 << GROUND_BLOCK_SHIFT;

/** The same grid with nothing but the coarser levels of its pyramid at hand: what comes is what is asked for, block by block. */
function inBlocks(whole: ElevationGrid): { grid: ElevationGrid; fetched: Set<string>; count: number } {
  const { rows, columns, pyramid } = whole;
  const { offsets, widths, heights } = pyramidLayout(rows, columns);
  const [[fine = 0, coarse = 0], [width = 0, coarseWidth = 0], [height = 0]] = [offsets, widths, heights];
  const samples = whole.samples.slice().fill(12_345);
  const maxima = pyramid.maxima.slice();
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      maxima[fine + y * width + x] = maxima[coarse + (y >> 2) * coarseWidth + (x >> 2)] as number;
    }
  }
  const fetched = new Set<string>();
  const need = (blockColumn: number, blockRow: number) => {
    const name = `${blockColumn} ${blockRow}`;
    if (fetched.has(name)) return;
    fetched.add(name);
    const left = blockColumn * SIDE;
    const right = Math.min(columns, left + SIDE + 1);
    for (let row = blockRow * SIDE; row < Math.min(rows, blockRow * SIDE + SIDE + 1); row++) {
      samples.set(whole.samples.subarray(row * columns + left, row * columns + right), row * columns + left);
    }
    for (let y = blockRow * 16; y < Math.min(height, blockRow * 16 + 16); y++) {
      for (let x = blockColumn * 16; x < Math.min(width, blockColumn * 16 + 16); x++) {
        maxima[fine + y * width + x] = pyramid.maxima[fine + y * width + x] as number;
      }
    }
  };
  const grid = new ElevationGrid({ ...whole, samples, pyramid: { ...pyramid, maxima }, blocks: { need } });
  const count = Math.ceil((rows - 1) / SIDE) * Math.ceil((columns - 1) / SIDE);
  return { grid, fetched, count };
}

const place = { south: 56, west: -10, perDegree: 600, rows: 601, columns: 601 };
const viewpoints = [
  { latitude: 56.5, longitude: -9.5, eyeHeightM: 2 },
  { latitude: 56.01, longitude: -9.99, eyeHeightM: 100 },
  // on the corner of a block, and on the edge of the grid
  { latitude: 57 - 64 / 600, longitude: -10 + 128 / 600, eyeHeightM: 1.6 },
  { latitude: 56, longitude: -9, eyeHeightM: 1.6 },
];

describe("ground that comes block by block", () => {
  const smooth = gridOf(place, hills);
  const even = noise(7);
  const rough = gridOf(place, () => 900 * even());
  const holed = new ElevationGrid({
    ...rough,
    pyramid: undefined,
    samples: rough.samples.map((z, i) => (i % 997 === 0 ? -9999 : z)),
    voidValue: -9999,
  });

  it.each(viewpoints)("makes the same skyline to the last bit, from $latitude $longitude", (viewpoint) => {
    for (const whole of [smooth, rough, holed]) {
      const { grid, fetched, count } = inBlocks(whole);
      const options = { stepDeg: 0.5, radiusM: 60_000 };
      const expected = scanHorizon([whole], viewpoint, options);
      expect(scanHorizon([grid], viewpoint, options)).toStrictEqual(expected);
      expect(fetched.size).toBeGreaterThan(0);
      expect(fetched.size).toBeLessThanOrEqual(count);
    }
  });

  it("is not all asked for where hills stand in front", () => {
    const { grid, fetched, count } = inBlocks(smooth);
    scanHorizon([grid], { latitude: 56.5, longitude: -9.5, eyeHeightM: 2 }, { stepDeg: 1 });
    expect(fetched.size).toBeLessThan(count / 2);
  });

  it("makes the same single azimuths, over another grid that goes first", () => {
    const near = gridOf({ south: 56.4, west: -9.6, perDegree: 1200, rows: 241, columns: 241 }, hills);
    const { grid } = inBlocks(smooth);
    const { grid: first } = inBlocks(near);
    const viewpoint = { latitude: 56.51, longitude: -9.52, eyeHeightM: 5 };
    const expected = new HorizonScanner([near, smooth], viewpoint);
    const found = new HorizonScanner([first, grid], viewpoint);
    for (let azimuth = 0; azimuth < 360; azimuth += 7.3) expect(found.at(azimuth)).toStrictEqual(expected.at(azimuth));
  });

  it("comes for the height of a single place", () => {
    const { grid, fetched } = inBlocks(smooth);
    for (const [column, row] of [
      [64, 64],
      [63.5, 127.9],
      [600, 600],
    ] as const) {
      expect(grid.elevationAt(column, row)).toBe(smooth.elevationAt(column, row));
    }
    expect(fetched.size).toBe(3);
  });
});
