import {
  compareOutings,
  findAlignments,
  lightWindowsAt,
  othersTurn,
  outingAt,
  type Surroundings,
  selectFilters,
  tidesAt,
  traceLightLevels,
} from "@fieldstop/answers";
import { drawLightLevels } from "@fieldstop/api/formats/pictures/light-levels-picture";
import { comingDays } from "@fieldstop/api/operations/shared/coming-days";
import { stationDatabase } from "@fieldstop/api/tides/station-database";
import { describe, expect, it } from "vitest";
import { turnsDuring } from "../turns-during";

const place = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };
const flat = { kind: "flat" } as const;
const kit = [3, 6, 10].map((stops) => ({ kind: "nd", stops }) as const);
const readings = ["18:00", "18:20", "18:40", "19:00"].map((time, i) => ({
  instant: `2027-03-20T${time}:00Z`,
  ev100: 12 - 3 * i,
}));

const stations = stationDatabase();
const around = (signal?: AbortSignal): Surroundings => ({
  timeZoneAt: () => "Etc/UTC",
  nowMs: () => Date.parse("2027-03-20T17:00:00Z"),
  tides: stations,
  ...(signal && { signal }),
});
const aDay = traceLightLevels(around(), { place, date: "2027-03-20", horizon: flat, stepMinutes: 10 });

describe.each<[string, number, (surroundings: Surroundings) => Promise<unknown>]>([
  [
    "filters are chosen over an evening",
    7,
    (s) => selectFilters(s, { filters: kit, readings, aperture: 8, iso: 100, wantedShutterSeconds: 30 }),
  ],
  [
    "the light of the days of a tide is found",
    7,
    (s) =>
      tidesAt(s, {
        latitude: 47.6,
        longitude: -3,
        from: "2027-03-01T00:00:00Z",
        to: "2027-03-10T00:00:00Z",
        levelM: 1,
      }),
  ],
  ["the rows of a day are made", 28, (s) => traceLightLevels(s, { place, date: "2027-03-20", horizon: flat })],
  [
    "rows with directions are made",
    7,
    (s) =>
      traceLightLevels(s, {
        place,
        from: "2027-03-20T17:00:00Z",
        to: "2027-03-20T17:40:00Z",
        horizon: flat,
        directions: true,
      }),
  ],
  [
    "an outing is planned",
    5,
    (s) =>
      outingAt(s, {
        place,
        date: "2027-03-20",
        session: "evening",
        horizon: flat,
        camera: { azimuthDeg: 290, aperture: 11, iso: 100 },
        filters: kit,
        targetShutterSeconds: 30,
      }),
  ],
  [
    "a day of light is drawn",
    5,
    async (s) => {
      const { rows, ...levels } = await aDay;
      return drawLightLevels({ ...levels, rows, moments: [], civilTwilight: [], width: 800 }, s.signal);
    },
  ],
  [
    "outings are compared",
    3,
    (s) =>
      compareOutings(s, {
        places: [{ place, horizon: flat }],
        dates: ["2027-03-20", "2027-03-21", "2027-03-22"],
        session: "evening",
        camera: { azimuthDeg: 290 },
      }),
  ],
  [
    "alignments of years are found without threads",
    10,
    (s) =>
      findAlignments(s, {
        place,
        body: "moon",
        target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
        from: "2027-01-01",
        to: "2030-12-31",
      }),
  ],
  [
    "a calendar of days is made",
    3,
    (s) =>
      comingDays(s, { place, days: 3, date: "2027-03-20" }, (date) =>
        lightWindowsAt(s, { place, date, horizon: flat }),
      ),
  ],
])("while %s", (_, least, answer) => {
  it("others have their turn", async () => {
    expect(await turnsDuring(() => answer(around()))).toBeGreaterThanOrEqual(least);
  });

  it("it ends once nobody waits for it any more", async () => {
    const waits = new AbortController();
    const answered = answer(around(waits.signal));
    setImmediate(() => waits.abort(new Error("nobody waits")));
    await expect(answered).rejects.toThrow("nobody waits");
  });
});

describe("many pieces of work", () => {
  /** So many at once, each of ten slices of so long. */
  const pieces = (count: number, sliceMs: number) =>
    Promise.all(
      Array.from({ length: count }, async () => {
        for (let slice = 0; slice < 10; slice++) {
          for (const untilMs = performance.now() + sliceMs; performance.now() < untilMs; );
          await othersTurn();
        }
      }),
    );

  it("of little each go on together, so that they do not wait the longer the more there are", async () => {
    // ten slices of each in ten turns, were all turns short enough
    expect(await turnsDuring(() => pieces(100, 0))).toBeLessThan(100);
  });

  it("of much each leave every turn to others", async () => {
    expect(await turnsDuring(() => pieces(4, 6))).toBeGreaterThanOrEqual(36);
  });

  it("end in the order in which they asked where they are as long", async () => {
    const ended: number[] = [];
    await Promise.all(
      [0, 1, 2, 3].map(async (piece) => {
        for (let slice = 0; slice < 3; slice++) await othersTurn();
        ended.push(piece);
      }),
    );
    expect(ended).toEqual([0, 1, 2, 3]);
  });
});
