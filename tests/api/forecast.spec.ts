import { fileURLToPath } from "node:url";
import { languageFor } from "@fieldstop/api/formats/messages/language";
import { stationDatabase } from "@fieldstop/api/tides/station-database";
import { createTerrain, TileError } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, get, post, problem, refusedFields, type TestApp, testApp } from "./harness";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const path = "/v1/forecast";
const strand = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };

interface Told {
  readonly id: string;
  readonly session: string;
  readonly date: string;
  readonly headline: string;
  readonly headlineCode: string;
  readonly summary: readonly { readonly code: string; readonly text: string }[];
  readonly skyline?: unknown;
  readonly skyOutlook?: { readonly outlook: string };
  readonly weather?: unknown;
  readonly assumptions: readonly { readonly field: string; readonly value: unknown; readonly why: string }[];
  readonly cautions: readonly { readonly code: string; readonly text: string }[];
  readonly moments: readonly { readonly name: string; readonly instant: string }[];
}

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [demo] }) });
});
const forecast = (query: Record<string, string | number> = {}) => answer<Told>(get(app, path, { ...strand, ...query }));

describe("GET /v1/forecast", () => {
  it("says first, in every form, that hills are not counted where elevation data cannot be read", async () => {
    const terrain = {
      horizonAt: () => Promise.reject(new TileError("N56W010.hgt", "the source cannot be reached")),
      highestNear: async () => null,
      groundElevationM: async () => null,
      groundElevationsM: async () => [],
      dataVersion: "1",
    };
    const without = testApp({ terrain });
    const { headline } = await answer<Told>(get(without, path, strand));
    expect(headline).toMatch(/^Hills are not counted, because elevation data cannot be read now/);
    for (const form of ["txt", "md", "svg", "ics"]) {
      const text = await (await get(without, `${path}.${form}`, strand)).text();
      expect(text.replace(/\r\n |<[^>]+>|\n/g, " ").replace(/ +/g, " "), form).toMatch(
        /Hills (?:are )?not counted|Hills are not/,
      );
    }
    expect((await forecast()).headline).not.toContain("not counted");
  });

  it("says in one sentence that the ridge takes the evening's light, and how long before the almanac", async () => {
    const { headline, headlineCode, date, session, moments } = await forecast();
    expect([date, session, headlineCode]).toEqual(["2027-03-20", "evening", "light-goes"]);
    const last = moments.find(({ name }) => name === "last-direct-light")?.instant.slice(11, 16);
    const sunset = moments.find(({ name }) => name === "sunset")?.instant.slice(11, 16);
    expect(headline).toMatch(
      new RegExp(
        `^Direct light goes at ${last} behind higher ground in the west, \\d+ minutes before the almanac's sunset at ${sunset}\\.$`,
      ),
    );
  });

  it("sums it up in five to eight lines, each a sentence, no number left raw", async () => {
    const { summary } = await forecast({ temperatureC: 5, relativeHumidity: 98, cloudHigh: 40, azimuthDeg: 280 });
    expect(summary.map(({ code }) => code)).toEqual([
      "verdict",
      "golden-light",
      "sky-outlook",
      "contrast",
      "moon",
      "lens-fog",
      "be-there",
    ]);
    for (const { text } of summary) {
      expect(text).toMatch(/^[A-Z].*\.$/);
      expect(text).not.toMatch(/\d\.\d{2}|undefined|NaN|null/);
    }
  });

  it("says where the sky is guessed, and does not where cloud is given", async () => {
    const clear = await forecast();
    const guess = clear.assumptions.filter(({ field }) => field === "sky.cloudCover");
    expect(guess).toHaveLength(1);
    expect(guess[0]?.why).toContain("no weather provider");
    expect(clear.skyOutlook).toBeUndefined();
    const cloudy = await forecast({ cloudLow: 90 });
    expect(cloudy.assumptions.map(({ field }) => field)).not.toContain("sky.cloudCover");
    expect(cloudy.skyOutlook?.outlook).toBe("unlikely");
  });

  it("has an id that stays with place, day and session, whatever the camera and the weather", async () => {
    const { id } = await forecast();
    expect(id).toMatch(/^[0-9a-f]{32}$/);
    expect((await forecast({ cloudLow: 50, focalLengthMm: 200, name: "Strand" })).id).toBe(id);
    const others = await Promise.all([
      forecast({ session: "morning" }),
      forecast({ date: "2027-03-21" }),
      forecast({ latitude: 56.61 }),
    ]);
    expect(new Set([id, ...others.map((other) => other.id)]).size).toBe(4);
  });

  it("carries the cautions, the tide's among them, and defers to local tables and signs", async () => {
    const { cautions } = await forecast();
    const codes = cautions.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(["sun-through-optics", "tide-and-swell", "dark-paths"]));
    expect(cautions.find(({ code }) => code === "tide-and-swell")?.text).toContain("local tide tables");
  });

  it("tells of the tide where a station is asked for, with the station's own caution", async () => {
    const stations = stationDatabase();
    const shore = testApp({ tides: stations });
    const place = { latitude: 26.77, longitude: -80.05, date: "2027-03-20" };
    const { summary, cautions } = await answer<Told>(get(shore, path, { ...place, tideStation: "nearest" }));
    const line = summary.find(({ code }) => code === "tide")?.text;
    expect(line).toMatch(
      /^Tide at .+: −?\d+\.\d m and (rising|falling) at the last direct light, (high|low) water −?\d+\.\d m at \d\d:\d\d; read the local tables\.$/,
    );
    expect(cautions.find(({ code }) => code === "tide-and-swell")?.text).toMatch(/local/);
    expect((await answer<Told>(get(shore, path, place))).summary.map(({ code }) => code)).not.toContain("tide");
    // a station has to be near
    expect(await refusedFields(get(shore, path, { ...strand, tideStation: "noaa/8722125" }), 422)).toEqual([
      "query:tideStation",
    ]);
  });

  it("shows the skyline in the frame where the camera's direction is given", async () => {
    expect((await forecast()).skyline).toBeUndefined();
    expect((await forecast({ azimuthDeg: 290, focalLengthMm: 24 })).skyline).toBeTypeOf("object");
  });

  it("answers the same to the byte each time", async () => {
    const [first, second] = await Promise.all([get(app, path, strand), get(app, path, strand)]);
    expect(await first.text()).toBe(await second.text());
  });

  it("speaks English to those who ask for another tongue, and says so", async () => {
    for (const lang of ["en", "en-GB", "nb-NO", "x-cant"]) {
      const response = await get(app, path, { ...strand, lang });
      expect(response.status).toBe(200);
      expect(response.headers.get("Content-Language")).toBe("en");
    }
    expect(await refusedFields(get(app, path, { ...strand, lang: "<b>" }))).toEqual(["query:lang"]);
  });

  it.each([
    [{ latitude: 91 }, "query:latitude", 400],
    [{ session: "noon" }, "query:session", 400],
    [{ cloudLow: 101 }, "query:cloudLow", 400],
    [{ sensor: "postage-stamp" }, "query:sensor", 400],
    [{ slopeDeg: 40 }, "query:slopeDeg", 400],
    [{ date: "2027-02-30" }, "query:date", 400],
    [{ date: "1850-01-01" }, "query:date", 422],
    [{ timeZone: "Ardvane/Strand" }, "query:timeZone", 400],
    [{ colour: "red" }, "query:colour", 400],
  ])("refuses %j by name", async (bad, field, status) => {
    expect(await refusedFields(get(app, path, { ...strand, ...bad }), status)).toEqual([field]);
  });
});

describe("deep in the polar night", () => {
  const pole = { latitude: 85, longitude: 20, date: "2027-12-20" };

  it("a forecast says that the sun stays down, in every form", async () => {
    const told = await forecast(pole);
    expect(told.headlineCode).toBe("sun-stays-down");
    expect(told.headline).toMatch(/^The sun does not rise: it is highest at \d\d:\d\d, 18° under the horizon\.$/);
    expect(told.moments.map(({ name }) => name)).toEqual(["highest-sun"]);
    for (const form of ["svg", "md", "txt", "ics"]) {
      const response = await get(app, `${path}.${form}`, { ...strand, ...pole });
      expect((await response.text()).replace(/\r\n |\s+/g, " "), form).toContain("The sun does not rise");
    }
  });

  it("a stream of forecasts has it for a forecast, not for a refusal", async () => {
    const { latitude, longitude, date } = pole;
    const [line, last] = await linesOf(
      post(app, "/v1/forecasts", { places: [{ place: { latitude, longitude }, date }] }),
    );
    expect(line?.forecast?.headlineCode).toBe("sun-stays-down");
    expect(last).toEqual({ done: true, served: 1, failed: 0 });
  });
});

describe("languages", () => {
  it("are found by shortening the tag, and English stands in for the rest", () => {
    for (const tag of [undefined, "en", "EN-us", "en-GB-oxendict", "de", "constructor", "__proto__"]) {
      expect(languageFor(tag).tag).toBe("en");
    }
  });
});

interface Line {
  readonly index?: number;
  readonly id?: string;
  readonly forecast?: Told;
  readonly problem?: { readonly status: number; readonly errors?: readonly { readonly pointer: string }[] };
  readonly done?: true;
  readonly served?: number;
  readonly failed?: number;
}

async function linesOf(response: Response | Promise<Response>): Promise<Line[]> {
  const settled = await response;
  const text = await settled.text();
  expect(settled.status, text).toBe(200);
  expect(settled.headers.get("Content-Type")).toBe("application/x-ndjson");
  expect(text.endsWith("\n")).toBe(true);
  return text
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line) as Line);
}

describe("POST /v1/forecasts", () => {
  const stream = (places: readonly unknown[]) => linesOf(post(app, "/v1/forecasts", { places }));

  it("gives each place its line, and counts them in the last", async () => {
    const places = [0, 1, 2, 3, 4].map((i) => ({ id: `p${i}`, place: { ...strand, latitude: 56.58 + i * 0.01 } }));
    const lines = await stream(places);
    expect(lines.at(-1)).toEqual({ done: true, served: 5, failed: 0 });
    const each = lines.slice(0, -1).sort((a, b) => Number(a.index) - Number(b.index));
    expect(each.map(({ index, id }) => [index, id])).toEqual(places.map(({ id }, i) => [i, id]));
    const alone = await forecast({ latitude: 56.6 });
    expect(each[2]?.forecast).toEqual(alone);
  });

  it("lets a bad place cost its own line alone, and names the field by its place in the body", async () => {
    const lines = await stream([
      { place: strand },
      { id: "far", place: { latitude: 91, longitude: 0 } },
      7,
      null,
      { place: strand, date: "2027-02-30" },
      { place: strand, camera: { aperture: 1e9 } },
      { place: strand, colour: "red" },
      { place: strand, date: "1899-12-31" },
      { place: strand, tideStation: "nearest" },
      { place: strand, session: "morning" },
    ]);
    const byIndex = new Map(lines.map((line) => [line.index, line]));
    expect(lines.at(-1)).toEqual({ done: true, served: 2, failed: 8 });
    expect(byIndex.get(1)?.id).toBe("far");
    const pointers = [1, 2, 3, 4, 5, 6, 7].map((i) => byIndex.get(i)?.problem?.errors?.map(({ pointer }) => pointer));
    expect(pointers).toEqual([
      ["/places/1/place/latitude"],
      ["/places/2"],
      ["/places/3"],
      ["/places/4/date"],
      ["/places/5/camera/aperture"],
      ["/places/6/colour"],
      ["/places/7/date"],
    ]);
    expect(byIndex.get(8)?.problem?.status).toBe(503);
    expect(byIndex.get(9)?.forecast?.headlineCode).toBe("light-comes");
  });

  it("refuses a body that is none before the first line", async () => {
    const refused = (body: unknown) => refusedFields(post(app, "/v1/forecasts", body));
    expect(await refused({})).toEqual(["/places"]);
    expect(await refused({ places: [] })).toEqual(["/places"]);
    expect(await refused({ places: new Array(1001).fill({ place: strand }) })).toEqual(["/places"]);
    expect(await refused({ places: [{ place: strand }], place: strand })).toEqual(["/place"]);
    await problem(post(app, "/v1/forecasts", '{"places": ['), 400);
    await problem(post(app, "/v1/forecasts", `{"places": ["${"x".repeat(1024 * 1024)}"]}`), 413);
  });

  it("turns a fault of ours into the line of that place, and says nothing of the inside", async () => {
    const faults: unknown[] = [];
    const failing = testApp({
      timeZoneAt: (latitude) => {
        if (latitude > 50) throw new Error("secret");
        return "Etc/UTC";
      },
      reportFault: (error) => faults.push(error),
    });
    const places = [{ place: strand }, { place: { latitude: 40, longitude: 0 } }];
    const response = await post(failing, "/v1/forecasts", { places });
    const text = await response.text();
    expect(text).not.toContain("secret");
    expect(faults).toHaveLength(1);
    expect(text.trimEnd().endsWith('{"done":true,"served":1,"failed":1}')).toBe(true);
    expect(text).toContain(`"requestId":"${response.headers.get("X-Request-Id")}"`);
  });

  it("works nothing out that nobody reads, and stops when the reader goes", async () => {
    let asked = 0;
    const counting = testApp({
      timeZoneAt: () => {
        asked++;
        return "Etc/UTC";
      },
    });
    const places = Array.from({ length: 200 }, (_, i) => ({ place: { latitude: 40 + i / 100, longitude: 0 } }));
    const response = await post(counting, "/v1/forecasts", { places });
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(asked).toBe(0);
    const reader = (response.body as ReadableStream<Uint8Array>).getReader();
    await reader.read();
    await reader.read();
    await new Promise((resolve) => setTimeout(resolve, 400));
    const whilePaused = asked;
    expect(whilePaused).toBeGreaterThanOrEqual(2);
    expect(whilePaused).toBeLessThanOrEqual(10);
    await reader.cancel();
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(asked).toBeLessThanOrEqual(whilePaused + 1);
  });
});
