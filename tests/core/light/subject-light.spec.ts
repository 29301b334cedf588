import { DomainError } from "@fieldstop/core";
import { describe, expect, it } from "vitest";
import { subjectSite } from "../../../packages/core/src/light/subject-light";

const place = { latitude: 56.601, longitude: -9.418 };
const ridge = { kind: "profile", profile: { azimuthsDeg: [0, 180], altitudesDeg: [3, 4] } } as const;
const wall = { kind: "terrain", profile: { azimuthsDeg: [0, 180], altitudesDeg: [7, 8] } } as const;

describe("subjectSite", () => {
  it("takes place and skyline from the camera where the subject has none of its own", () => {
    expect(subjectSite({}, place, ridge)).toEqual({ ...place, horizon: ridge, assumptions: [] });
  });

  it("takes the subject's own place and skyline", () => {
    const site = subjectSite({ latitude: 56.59, longitude: -9.44, horizon: wall }, place, ridge);
    expect(site).toEqual({ latitude: 56.59, longitude: -9.44, horizon: wall, assumptions: [] });
  });

  it("says so where a subject elsewhere is put under the camera's skyline, and need not over a level horizon", () => {
    const elsewhere = { latitude: 56.59, longitude: -9.44 };
    const { assumptions, horizon } = subjectSite(elsewhere, place, ridge);
    expect(horizon).toBe(ridge);
    expect(assumptions).toMatchObject([{ field: "subject.horizon", value: "the camera's" }]);
    expect(subjectSite(elsewhere, place, { kind: "flat" }).assumptions).toEqual([]);
  });

  it("takes a facing without a slope for a wall, and says so", () => {
    const { facing, assumptions } = subjectSite({ facingAzimuthDeg: 290 }, place, ridge);
    expect(facing).toEqual({ facingAzimuthDeg: 290, slopeDeg: 90 });
    expect(assumptions).toMatchObject([{ field: "subject.slopeDeg", value: 90 }]);
    expect(subjectSite({ facingAzimuthDeg: 290, slopeDeg: 60 }, place, ridge).assumptions).toEqual([]);
  });

  it("needs no facing for level ground", () => {
    expect(subjectSite({ slopeDeg: 0 }, place, ridge).facing).toEqual({ facingAzimuthDeg: 0, slopeDeg: 0 });
  });

  it.each([
    [{ latitude: 56 }, "subject.longitude"],
    [{ longitude: -9 }, "subject.latitude"],
    [{ latitude: 91, longitude: 0 }, "subject.latitude"],
    [{ latitude: 0, longitude: Number.NaN }, "subject.longitude"],
    [{ slopeDeg: 40 }, "subject.facingAzimuthDeg"],
    [{ slopeDeg: 181, facingAzimuthDeg: 0 }, "subject.slopeDeg"],
    [{ slopeDeg: Number.NaN }, "subject.slopeDeg"],
    [{ facingAzimuthDeg: -1 }, "subject.facingAzimuthDeg"],
  ])("refuses %j", (subject, param) => {
    const refusal = (): unknown => subjectSite(subject, place, ridge);
    expect(refusal).toThrow(DomainError);
    expect(refusal).toThrow(expect.objectContaining({ param }));
  });
});
