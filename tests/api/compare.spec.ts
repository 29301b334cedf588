import { describe, expect, it } from "vitest";
import { answer, post, refusedFields, testApp } from "./harness";

const app = testApp();
const path = "/v1/outings/compare";
const ridge = {
  kind: "profile",
  points: [
    { azimuthDeg: 232, altitudeDeg: 0 },
    { azimuthDeg: 246, altitudeDeg: 5 },
    { azimuthDeg: 312, altitudeDeg: 5 },
    { azimuthDeg: 320, altitudeDeg: 0 },
  ],
};
const comparison = {
  places: [
    { place: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 }, horizon: ridge },
    { place: { name: "Gannet Head", latitude: 56.637, longitude: -9.474 } },
  ],
  dates: ["2027-03-20", "2027-03-21"],
  session: "evening",
  camera: { azimuthDeg: 290 },
};

interface Ranked {
  readonly outings: readonly {
    rank: number;
    score: number;
    date: string;
    place: { name: string };
    parts: { text: string }[];
  }[];
}

describe("POST /v1/outings/compare", () => {
  it("ranks places and days, each score explained by its parts", async () => {
    const { outings } = await answer<Ranked>(post(app, path, comparison));
    expect(outings.map(({ rank }) => rank)).toEqual([1, 2, 3, 4]);
    expect(outings.slice(0, 2).map(({ place }) => place.name)).toEqual(["Gannet Head", "Gannet Head"]);
    expect(outings.map(({ score }) => score)).toEqual([...outings.map(({ score }) => score)].sort((a, b) => b - a));
    for (const { parts } of outings) for (const { text } of parts) expect(text).toMatch(/\.$/);
  });

  it("says of any place and day what can hurt there, each once", async () => {
    const northern = { place: { latitude: 71, longitude: -9.4 } };
    const codes = async (places: readonly object[]) => {
      const { cautions } = await answer<{ cautions: { code: string }[] }>(
        post(app, path, { ...comparison, places, dates: ["2027-06-21"] }),
      );
      return cautions.map(({ code }) => code);
    };
    expect(await codes([northern])).not.toContain("dark-paths");
    const ofBoth = await codes([northern, ...comparison.places]);
    expect(ofBoth.filter((code) => code === "dark-paths")).toHaveLength(1);
    expect(new Set(ofBoth).size).toBe(ofBoth.length);
  });

  it.each([
    [{ places: [] }, "/places"],
    [{ dates: ["2027-03-20", "2027-02-30"] }, "/dates/1"],
    [{ session: "noon" }, "/session"],
    [{ weights: { luck: 1 } }, "/weights/luck"],
    [{ weights: { contrast: 11 } }, "/weights/contrast"],
    [{ places: Array.from({ length: 11 }, () => comparison.places[1]) }, "/places"],
    [{ places: [{ place: { latitude: 91, longitude: 0 } }] }, "/places/0/place/latitude"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(post(app, path, { ...comparison, ...bad }))).toContain(pointer);
  });
});
