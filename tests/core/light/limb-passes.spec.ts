import { limbAltitudeDeg } from "@fieldstop/core/light";
import { sunTrack } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";
import { wrap180 } from "../../../packages/core/src/angles";
import { cubicAt, fitCubic } from "../../../packages/core/src/light/cubic";
import {
  LONGEST_PIECE_MS,
  NEAR_DEG,
  NEAR_LEVEL_DEG,
  WIDEST_PIECE_DEG,
} from "../../../packages/core/src/light/limb-passes";
import { seeded } from "./random-skylines";

/** How far a cubic strays from azimuth and limb on pieces as long and as wide as the walk takes, anywhere and in any year. */
function strayOnPieces(count: number) {
  const random = seeded(20270320);
  const azimuth = new Float64Array(4);
  const altitude = new Float64Array(4);
  const stray = { levelDeg: 0, elsewhereDeg: 0, azimuthDeg: 0 };
  let pieces = 0;
  while (pieces < count) {
    const observer = { latitude: random() * 180 - 90, longitude: random() * 360 - 180 };
    const startMs = Date.UTC(1900, 0, 2) + Math.floor(random() * 200 * 365) * 86_400_000 + random() * 86_400_000;
    const lengthMs = LONGEST_PIECE_MS * (random() < 0.5 ? 1 : random());
    // from thin warm air to the densest that is taken
    const air = { pressureHPa: 700 + 400 * random(), temperatureC: 90 * random() - 60 };
    const track = sunTrack(startMs, startMs + lengthMs, observer, air);
    const sun = [0, 1 / 3, 2 / 3, 1].map((part) => track(startMs + part * lengthMs));
    const [first, , , last] = sun;
    if (first === undefined || last === undefined || first.altitudeDeg < -4) continue;
    const turnTo = (azimuthDeg: number): number => wrap180(azimuthDeg - first.azimuthDeg);
    const swings = sun.map(({ azimuthDeg }) => turnTo(azimuthDeg)) as [number, number, number, number];
    if (Math.abs(swings[3]) > WIDEST_PIECE_DEG) continue;
    pieces++;
    const limb = pieces % 2 === 0 ? "upper" : "lower";
    const limbs = sun.map((position) => limbAltitudeDeg(position, limb)) as [number, number, number, number];
    fitCubic(azimuth, ...swings);
    fitCubic(altitude, ...limbs);
    const nearLevel = Math.min(limbs[0], limbs[3]) < 0.5 && Math.max(limbs[0], limbs[3]) > -0.5;
    for (let i = 0; i < 8; i++) {
      const u = random();
      const there = track(startMs + u * lengthMs);
      const off = Math.abs(cubicAt(altitude, u) - limbAltitudeDeg(there, limb));
      if (nearLevel) stray.levelDeg = Math.max(stray.levelDeg, off);
      else stray.elsewhereDeg = Math.max(stray.elsewhereDeg, off);
      if (there.altitudeDeg > 85) continue;
      stray.azimuthDeg = Math.max(stray.azimuthDeg, Math.abs(cubicAt(azimuth, u) - turnTo(there.azimuthDeg)));
    }
  }
  return stray;
}

describe("the cubics that stand in for the sun on a piece", () => {
  const stray = strayOnPieces(40_000);

  it("are nearer to its limbs than the walk allows for", () => {
    expect(stray.elsewhereDeg).toBeLessThan(NEAR_DEG);
    expect(stray.levelDeg).toBeLessThan(NEAR_LEVEL_DEG);
  });

  it("would stray near the level, where the lift of the air breaks off, by more than elsewhere", () => {
    expect(stray.levelDeg).toBeGreaterThan(NEAR_DEG);
  });

  it("follow its azimuth to 0.003° but close to the zenith", () => {
    expect(stray.azimuthDeg).toBeLessThan(0.003);
  });
});
