import { describe, expect, it } from "vitest";
import { Gap } from "../../../packages/core/src/horizon/gap";
import { noise } from "./grids";

const LATITUDE = 38.4;
const LONGITUDE = 179.2;

/** South-west corners of the cells that a gap names, and where the ray enters each. */
function cellsOf(gap: Gap): [name: string, fromM: number][] {
  const cells: [string, number][] = [];
  gap.report((latitude, longitude, fromM) => cells.push([`${latitude} ${longitude}`, fromM]));
  return cells;
}

describe("a gap between grids", () => {
  it("names the degree cells that a chord crosses, in their order, and where it enters them", () => {
    const random = noise(7);
    const gap = new Gap(LATITUDE, LONGITUDE);
    const steps = 20_000;
    for (let trial = 0; trial < 200; trial++) {
      const [east0 = 0, north0 = 0, east1 = 0, north1 = 0] = Array.from({ length: 4 }, () => 4 * (random() - 0.5));
      const chord = { east0, north0, east1, north1, fromM: 10_000, toM: 90_000 };
      gap.noteCells(chord, 0.1, 0.9);
      const cells = cellsOf(gap);
      const stepped: [string, number][] = [];
      for (let i = 0; i <= steps; i++) {
        const t = 0.1 + (0.8 * i) / steps;
        const latitude = Math.floor(LATITUDE + north0 + t * (north1 - north0));
        const longitude = Math.floor(LONGITUDE + east0 + t * (east1 - east0));
        const name = `${latitude} ${longitude >= 180 ? longitude - 360 : longitude}`;
        if (stepped.at(-1)?.[0] !== name) stepped.push([name, chord.fromM + t * (chord.toM - chord.fromM)]);
      }
      const known = new Map(cells);
      for (const [name, fromM] of stepped) expect(Math.abs((known.get(name) as number) - fromM)).toBeLessThan(5);
      // a corner cut by less than a step is named as well
      expect(cells.length - stepped.length).toBeLessThan(2);
      expect(cells.map(([, fromM]) => fromM)).toEqual(cells.map(([, fromM]) => fromM).sort((a, b) => a - b));
    }
  });

  it.each([
    [
      "along a parallel on the edge of cells",
      { east0: -1.2, north0: 0.6, east1: 0.8, north1: 0.6 },
      ["39 178", "39 179"],
    ],
    [
      "down a meridian on the edge of cells",
      { east0: 0.8, north0: 1, east1: 0.8, north1: -1 },
      ["39 -180", "38 -180", "37 -180"],
    ],
    ["through the corner of cells", { east0: -0.2, north0: -0.4, east1: 1.8, north1: 1.6 }, ["38 179", "39 -180"]],
  ])("%s", (_how, chord, expected) => {
    const gap = new Gap(LATITUDE, LONGITUDE);
    gap.noteCells({ ...chord, fromM: 0, toM: 200_000 }, 0, 1);
    expect(cellsOf(gap).map(([name]) => name)).toEqual(expected);
  });
});
