import {
  type AlignmentRequest,
  findAlignments,
  horizonProfileFromPoints,
  moonPosition,
  parseInstant,
  sunPosition,
} from "@fieldstop/core";
import { describe, expect, it } from "vitest";
import { separationDeg } from "../../../packages/core/src/angles";

const place = { latitude: 56.6, longitude: -9.4 };
const years: AlignmentRequest = {
  place,
  timeZone: "Europe/London",
  body: "sun",
  target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
  from: "2027-01-01",
  to: "2029-01-01",
};
/** The notch in the ridge: shoulders at 5°, its floor at 3°. */
const notch = horizonProfileFromPoints([
  { azimuthDeg: 240, altitudeDeg: 3 },
  { azimuthDeg: 284, altitudeDeg: 5 },
  { azimuthDeg: 286, altitudeDeg: 3 },
  { azimuthDeg: 288, altitudeDeg: 5 },
  { azimuthDeg: 300, altitudeDeg: 4 },
]);
const away = (one: { azimuthDeg: number; altitudeDeg: number }, azimuthDeg: number, altitudeDeg: number): number =>
  separationDeg(one.azimuthDeg, one.altitudeDeg, azimuthDeg, altitudeDeg);

describe("findAlignments, a direction", () => {
  it.each(["sun", "moon"] as const)("finds the %s there, each hit verified by its position", (body) => {
    const { alignments, truncated } = findAlignments({ ...years, body });
    expect(alignments.length).toBeGreaterThan(5);
    expect(truncated).toBe(false);
    for (const { instant, separationDeg: claimed } of alignments) {
      const ms = parseInstant(instant);
      const at = (t: number) => (body === "sun" ? sunPosition(t, place) : moonPosition(t, place));
      // the instant is written to the second, in which the sky turns by 0.004°
      expect(Math.abs(away(at(ms), 286, 3) - claimed)).toBeLessThan(0.005);
      expect(claimed).toBeLessThanOrEqual(0.5);
      for (const aside of [-60_000, 60_000]) expect(away(at(ms + aside), 286, 3)).toBeGreaterThan(claimed);
    }
  });

  it("misses none that a scan in 20 s steps finds", () => {
    const month = { ...years, from: "2027-04-01", to: "2027-05-01", toleranceDeg: 1 };
    const { alignments } = findAlignments(month);
    const days = new Set<string>();
    for (let ms = Date.UTC(2027, 3, 1); ms < Date.UTC(2027, 4, 1); ms += 20_000) {
      if (away(sunPosition(ms, place), 286, 3) <= 0.99) days.add(new Date(ms + 3_600_000).toISOString().slice(0, 10));
    }
    expect(days.size).toBeGreaterThan(2);
    expect(alignments.map(({ date }) => date)).toEqual(expect.arrayContaining([...days]));
  });

  it("keeps to the sun's altitude and the moon's lit part that are asked for", () => {
    const asked = { sunAltitudeDeg: [-12, -4] as const, illuminatedFraction: [0.9, 1] as const };
    const { alignments } = findAlignments({ ...years, to: "2040-01-01", body: "moon", toleranceDeg: 3, ...asked });
    expect(alignments.length).toBeGreaterThan(0);
    for (const { sunAltitudeDeg, moon } of alignments) {
      expect(sunAltitudeDeg).toBeGreaterThanOrEqual(-12);
      expect(sunAltitudeDeg).toBeLessThanOrEqual(-4);
      expect(moon.illuminatedFraction).toBeGreaterThanOrEqual(0.9);
    }
  });

  it("says where it stopped", () => {
    expect(findAlignments({ ...years, limit: 2 })).toMatchObject({ truncated: true, alignments: { length: 2 } });
  });

  it("has no hit where the sun never comes", () => {
    expect(
      findAlignments({ ...years, target: { kind: "direction", azimuthDeg: 0, altitudeDeg: 40 } }).alignments,
    ).toEqual([]);
  });
});

describe("findAlignments, a notch in the skyline", () => {
  it.each(["upper", "centre", "lower"] as const)("finds the %s limb on the skyline there", (limb) => {
    const { alignments } = findAlignments({
      ...years,
      profile: notch,
      target: { kind: "skyline", azimuthDeg: 286, limb },
    });
    expect(alignments.length).toBeGreaterThan(3);
    const semidiameter = { upper: 16 / 60, centre: 0, lower: -16 / 60 }[limb];
    for (const { position, passage, separationDeg: offset } of alignments) {
      const within = Math.abs(position.azimuthDeg - 286);
      expect(offset).toBeCloseTo(within, 3);
      const floor = 3 + within * 1;
      expect(position.altitudeDeg + semidiameter).toBeCloseTo(floor, 2);
      expect(["rising", "setting"]).toContain(passage);
    }
  });

  it("needs a skyline for it", () => {
    const target = { kind: "skyline", azimuthDeg: 286 } as const;
    expect(() => findAlignments({ ...years, target })).toThrow(
      expect.objectContaining({ code: "impossible", param: "target.kind" }),
    );
  });
});

describe("refuses", () => {
  it.each([
    [{ to: "3027-01-01" }, "to"],
    [{ to: "2047-06-01" }, "to"],
    [{ to: "2026-01-01" }, "to"],
    [{ toleranceDeg: 0 }, "toleranceDeg"],
    [{ limit: 0 }, "limit"],
    [{ target: { kind: "direction", azimuthDeg: 400, altitudeDeg: 3 } }, "target.azimuthDeg"],
  ] as const)("%j by name", (bad, param) => {
    expect(() => findAlignments({ ...years, ...bad })).toThrow(expect.objectContaining({ param }));
  });

  it.each([
    [{ azimuthsDeg: [], altitudesDeg: [] }, "profile"],
    [{ azimuthsDeg: [90, 270], altitudesDeg: [3, Number.NaN] }, "profile.altitudesDeg.1"],
  ])("a skyline that cannot be read: %j", (profile, param) => {
    const target = { kind: "skyline", azimuthDeg: 286 } as const;
    expect(() => findAlignments({ ...years, profile, target })).toThrow(expect.objectContaining({ param }));
  });
});
