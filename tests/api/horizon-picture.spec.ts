import { escapeXml } from "@fieldstop/api/formats/escape";
import { drawHorizonStrip, SUN_PATH_STEP_MS } from "@fieldstop/api/formats/pictures/horizon-strip";
import { fitText, placeLabels, textWidth } from "@fieldstop/api/formats/pictures/labels";
import { findLightWindows, horizonProfileFromPoints, localDay, sunTrack } from "@fieldstop/core";
import { createTerrain } from "@fieldstop/terrain";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, get, problem, refusedFields, type TestApp, testApp } from "./harness";
import { expectWellFormed, pictureOf, plain } from "./well-formed";

const path = "/v1/horizon.svg";
const strand = { latitude: 56.6, longitude: -9.4, date: "2027-03-20" };

interface Windows {
  readonly directLight: {
    readonly intervals: readonly {
      readonly start: string;
      readonly end: string;
      readonly startCause: string;
      readonly endCause: string;
      readonly startAzimuthDeg: number;
      readonly endAzimuthDeg: number;
    }[];
    readonly minutesLostToTerrain: number;
  };
}

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [`${import.meta.dirname}/../../demo/elevation`] }) });
});

const texts = (markup: string, kind: string): string[] =>
  [...markup.matchAll(new RegExp(`<text class="${kind}"[^>]*>([^<]*)</text>`, "g"))].map(([, text]) =>
    plain(text as string),
  );

describe("GET /v1/horizon.svg", () => {
  it.each([400, 1200])("marks the cuts of the day at the times of the light windows, %i px wide", async (width) => {
    for (const date of ["2027-03-20", "2027-06-21", "2027-12-21"]) {
      const markup = await pictureOf(get(app, path, { ...strand, date, width }));
      const { directLight } = await answer<Windows>(get(app, "/v1/light-windows", { ...strand, date }));
      const cuts = directLight.intervals.flatMap((lit) => [
        `↑ ${lit.start.slice(11, 16)} · ${Math.round(lit.startAzimuthDeg)}°`,
        `↓ ${lit.end.slice(11, 16)} · ${Math.round(lit.endAzimuthDeg)}°`,
      ]);
      expect(cuts.length).toBeGreaterThanOrEqual(2);
      expect(texts(markup, "when")).toEqual(cuts);
      for (const { start, end } of directLight.intervals) {
        expect(markup).toContain(`The sun comes out at ${start}`);
        expect(markup).toContain(`goes at ${end.slice(11, 19)}`);
      }
      expect(markup).toContain(`terrain takes ${Math.round(directLight.minutesLostToTerrain)} min`);
      expect(markup).toContain(`viewBox="0 0 ${width} `);
    }
  });

  it("puts each mark where its azimuth is, and the mark of the evening right of that of the morning", async () => {
    const markup = await pictureOf(get(app, path, strand));
    const at = [...markup.matchAll(/<circle class="cut" cx="([\d.]+)"/g)].map(([, cx]) => Number(cx));
    const azimuths = [...markup.matchAll(/azimuth ([\d.]+)°<\/title>/g)].map(([, deg]) => Number(deg));
    expect(at).toHaveLength(2);
    const pxPerDeg = ((at[1] as number) - (at[0] as number)) / ((azimuths[1] as number) - (azimuths[0] as number));
    // 14 px text: a strip from 36.4 to 1191.6 px for the whole round
    expect(pxPerDeg).toBeCloseTo((1191.6 - 36.4) / 360, 2);
  });

  it("turns to the north where the sun does", async () => {
    const south = await pictureOf(
      get(app, path, { latitude: -44, longitude: 170, date: "2027-12-21", horizon: "flat" }),
    );
    expect(south).toContain("north in the middle");
    expect(south).toContain("sea horizon");
    const morning = Number(/<circle class="cut" cx="([\d.]+)"[^>]*><title>The sun comes out/.exec(south)?.[1]);
    expect(morning).toBeGreaterThan(600);
  });

  it.each([
    ["a day without night", "2027-06-21", "Direct light all day"],
    ["a day without sun", "2027-12-21", "The sun does not rise"],
  ])("draws %s, with nothing cut", async (_, date, words) => {
    const markup = await pictureOf(get(app, path, { latitude: 75, longitude: 20, date }));
    expect(markup).toContain(words);
    expect(markup).not.toContain('class="cut"');
    expect(markup).toContain("The skyline never cuts the sun&#39;s path.");
  });

  it("says where elevation data is missing", async () => {
    expect(await pictureOf(get(app, path, strand))).toContain('class="doubt"');
    expect(await pictureOf(get(app, path, { ...strand, horizon: "flat" }))).not.toContain('class="doubt"');
  });

  it("keeps a name from being anything but text", async () => {
    const name = `</text><script>alert("1")</script>&amp;'`;
    const markup = await pictureOf(get(app, path, { ...strand, horizon: "flat", name }));
    expect(markup).toContain(`<title id="title">Skyline and sun at ${escapeXml(name)}, 2027-03-20</title>`);
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: "binary", maxLength: 60 }),
        fc.integer({ min: 320, max: 2400 }),
        async (any, width) => {
          await pictureOf(get(app, path, { ...strand, horizon: "flat", name: any, width }));
        },
      ),
      { numRuns: 25 },
    );
  });

  it("also comes from /v1/horizon where a picture is preferred, and never to who prefers data", async () => {
    const ask = (accept: string) =>
      Promise.resolve(
        app.request("/v1/horizon?latitude=56.6&longitude=-9.4&stepDeg=5", { headers: { Accept: accept } }),
      );
    const today = await pictureOf(ask("image/svg+xml"));
    expect(today).toBe(await pictureOf(get(app, path, { latitude: 56.6, longitude: -9.4 })));
    await pictureOf(ask("image/avif,image/svg+xml,image/*,*/*;q=0.8"));
    for (const accept of ["*/*", "application/json", "image/svg+xml;q=0.5, application/json", "text/html, */*;q=0.1"]) {
      const response = await ask(accept);
      expect(response.headers.get("Vary")).toContain("Accept");
      expect(response.headers.get("Content-Type"), accept).toContain("application/json");
    }
    await problem(ask("text/csv"), 406);
    await problem(ask("image/svg+xml;q=0"), 406);
  });

  it("is a picture and nothing else", async () => {
    const ask = (accept: string) =>
      Promise.resolve(
        app.request(`${path}?latitude=56.6&longitude=-9.4&horizon=flat`, { headers: { Accept: accept } }),
      );
    await pictureOf(ask("image/*"));
    await problem(ask("application/json"), 406);
    expect((await get(app, "/v1/sun", { latitude: 1, longitude: 1 })).headers.get("Vary")).toBeNull();
    expect((await get(app, path, { ...strand, horizon: "flat" })).headers.get("Cache-Control")).toBe(
      (await get(app, "/v1/light-windows", { ...strand, horizon: "flat" })).headers.get("Cache-Control"),
    );
  });

  it.each([
    [{ width: 319 }, "query:width"],
    [{ width: 2401 }, "query:width"],
    [{ width: "wide" }, "query:width"],
    [{ latitude: 91 }, "query:latitude"],
    [{ date: "2027-02-30" }, "query:date"],
    [{ colour: "red" }, "query:colour"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(get(app, path, { ...strand, ...(bad as Record<string, string>) }))).toContain(pointer);
  });
});

describe("a ridge like a saw", () => {
  const place = { name: "Ardvane Ridge", latitude: 56.6, longitude: -9.4 };
  const points = Array.from({ length: 90 }, (_, i) => ({ azimuthDeg: i * 4, altitudeDeg: 6 + 5 * Math.sin(i * 2.1) }));
  const profile = horizonProfileFromPoints(points);
  const { startMs, endMs } = localDay("2027-12-21", "Etc/UTC");
  const light = findLightWindows({
    place,
    date: "2027-12-21",
    timeZone: "Etc/UTC",
    horizon: { kind: "profile", profile },
  });
  const track = sunTrack(startMs, endMs, place);
  const sunPath = Array.from({ length: (endMs - startMs) / SUN_PATH_STEP_MS + 1 }, (_, i) => {
    const instantMs = startMs + i * SUN_PATH_STEP_MS;
    return { instantMs, ...track(instantMs) };
  });

  it.each([320, 400, 1200, 2400])(
    "has every cut marked, the first and the last with their times, %i px wide",
    (width) => {
      const { intervals, firstInstant, lastInstant } = light.directLight;
      expect(intervals.length).toBeGreaterThan(4);
      const markup = drawHorizonStrip({ light, profile, sunPath, hours: [], width });
      expectWellFormed(markup);
      expect([...markup.matchAll(/class="cut"/g)]).toHaveLength(2 * intervals.length);
      const named = texts(markup, "when");
      expect(named[0]).toContain(firstInstant?.slice(11, 16));
      expect(named.at(-1)).toContain(lastInstant?.slice(11, 16));
      const unnamed = 2 * intervals.length - named.length;
      if (width === 320) expect(unnamed).toBeGreaterThan(0);
      expect(markup.includes(`${unnamed} more cuts`)).toBe(unnamed > 0);
      // those who do not see it are told all of them
      for (const { start, end } of intervals) {
        expect(markup).toContain(`comes out at ${start.slice(11, 19)}`);
        expect(markup).toContain(`goes at ${end.slice(11, 19)}`);
      }
    },
  );
});

describe("labels", () => {
  it("never cover one another in a row, nor leave the picture", () => {
    const label = fc.record({
      text: fc.string({ minLength: 1, maxLength: 14 }),
      x: fc.double({ min: -50, max: 1250, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(label, { maxLength: 20 }), (labels) => {
        const placed = placeLabels(labels, 14, 1200, 4);
        expect(placed).toHaveLength(labels.length);
        placed.forEach((a, i) => {
          if (a.row === null) return;
          const half = textWidth(a.text, 14) / 2;
          expect(a.middle - half).toBeGreaterThanOrEqual(-1e-9);
          expect(a.middle + half).toBeLessThanOrEqual(1200 + 1e-9);
          for (const b of placed.slice(0, i)) {
            if (b.row === a.row)
              expect(Math.abs(a.middle - b.middle)).toBeGreaterThanOrEqual(half + textWidth(b.text, 14) / 2);
          }
        });
      }),
    );
  });

  it.each(["over-later-rows", "over-earlier-rows"] as const)("let no lead run %s through another label", (leads) => {
    const label = fc.record({
      text: fc.string({ minLength: 1, maxLength: 14 }),
      x: fc.double({ min: 0, max: 600, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(label, { maxLength: 20 }), (labels) => {
        const placed = placeLabels(labels, 14, 600, 4, leads);
        for (const one of placed) {
          for (const other of placed) {
            if (one.row === null || other.row === null || one === other) continue;
            const runsOver = leads === "over-later-rows" ? one.row < other.row : one.row > other.row;
            const half = textWidth(other.text, 14) / 2;
            if (runsOver) expect(Math.abs(one.x - other.middle)).toBeGreaterThanOrEqual(half);
          }
        }
        // the first finds room wherever it is
        if (placed[0] !== undefined) expect(placed[0].row).not.toBeNull();
      }),
    );
  });

  it("are cut where they do not fit", () => {
    expect(fitText("Ardvane Strand", 14, 400)).toBe("Ardvane Strand");
    const cut = fitText("Ardvane Strand by the old jetty", 14, 100);
    expect(cut).toMatch(/^Ardvane.*…$/);
    expect(textWidth(cut, 14)).toBeLessThanOrEqual(100);
  });
});

describe("escapeXml", () => {
  it("is undone by a reader, and is well formed, whatever the text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        expect(plain(escapeXml(text))).toBe(text);
        expectWellFormed(`<a b="${escapeXml(text)}">${escapeXml(text)}</a>`);
      }),
    );
  });

  it("leaves nothing that XML forbids", () => {
    expect(escapeXml("a\u0000b\ud800c\uffff")).toBe("a b\ufffdc ");
  });
});
