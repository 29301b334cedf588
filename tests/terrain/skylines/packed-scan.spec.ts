import { ElevationGrid, scanHorizon } from "@fieldstop/core/horizon";
import { describe, expect, it } from "vitest";
import { openScan, packedScan } from "../../../packages/terrain/src/skylines/packed-scan";

/** A corner of land with a hill, unknown ground all round. */
function hill(): ElevationGrid {
  const side = 61;
  const samples = new Int16Array(side * side);
  samples[30 * side + 40] = 250;
  const step = 1 / 600;
  return new ElevationGrid({
    samples,
    rows: side,
    columns: side,
    northDeg: 56.65,
    westDeg: -9.45,
    latStepDeg: step,
    lonStepDeg: step,
  });
}

describe("a packed scan", () => {
  it("is the same scan when another thread has opened it", () => {
    const scan = scanHorizon([hill()], { latitude: 56.6, longitude: -9.4, eyeHeightM: 1.7 }, { radiusM: 30_000 });
    expect(new Set(scan.certain)).toContain(false);
    expect(openScan(structuredClone(packedScan(scan)))).toStrictEqual(scan);
  });
});
