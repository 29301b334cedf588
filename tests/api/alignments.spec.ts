import { describe, expect, it } from "vitest";
import { answer, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();
const path = "/v1/alignments";
const search = {
  place: { latitude: 56.6, longitude: -9.4 },
  body: "moon",
  target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
  from: "2027-01-01",
  to: "2028-01-01",
};

describe("POST /v1/alignments", () => {
  it("finds the moon over the ridge, with its phase", async () => {
    const found = await answer<{ alignments: { date: string; separationDeg: number }[] }>(post(app, path, search));
    expect(found.alignments.length).toBeGreaterThan(3);
    expect(found.alignments[0]).toMatchObject({ moon: { phaseName: expect.any(String) }, passage: null });
  });

  it("finds the sun in a notch of the skyline that came with the request", async () => {
    const points = [
      { azimuthDeg: 240, altitudeDeg: 3 },
      { azimuthDeg: 284, altitudeDeg: 5 },
      { azimuthDeg: 286, altitudeDeg: 3 },
      { azimuthDeg: 288, altitudeDeg: 5 },
    ];
    const target = { kind: "skyline", azimuthDeg: 286, limb: "lower" };
    const body = { ...search, body: "sun", target, horizon: { kind: "profile", points } };
    const found = await answer<{ alignments: { passage: string }[] }>(post(app, path, body));
    expect(found.alignments.length).toBeGreaterThan(1);
    expect(["rising", "setting"]).toContain(found.alignments[0]?.passage);
  });

  it.each([
    [{ body: "mars" }, "/body"],
    [{ target: { kind: "direction", azimuthDeg: 286 } }, "/target/altitudeDeg"],
    [{ toleranceDeg: 0 }, "/toleranceDeg"],
    [{ from: "2027-02-30" }, "/from"],
    [{ illuminatedFraction: [0, 2] }, "/illuminatedFraction/1"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(post(app, path, { ...search, ...bad }))).toContain(pointer);
  });

  it("understands a span of a thousand years, and has no answer", async () => {
    expect((await problem(post(app, path, { ...search, to: "3027-01-01" }), 422)).errors?.[0]?.pointer).toBe("/to");
    expect(await refusedFields(post(app, path, { ...search, to: "2060-01-01" }), 422)).toEqual(["/to"]);
  });

  it("needs a skyline for a target on it", async () => {
    const body = { ...search, target: { kind: "skyline", azimuthDeg: 286 } };
    expect(await refusedFields(post(app, path, body), 422)).toEqual(["/target/kind"]);
  });
});
