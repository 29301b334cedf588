import { fileURLToPath } from "node:url";
import { textWidth } from "@fieldstop/api/formats/pictures/labels";
import { LIGHT_BAND_STYLE, sunUp, without } from "@fieldstop/api/formats/pictures/light-band";
import { wrapText } from "@fieldstop/api/formats/pictures/wrap-text";
import type { CautionCode } from "@fieldstop/core";
import { createTerrain } from "@fieldstop/terrain";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { en } from "../../apps/api/src/formats/messages/en";
import { answer, get, refusedFields, type TestApp, testApp } from "./harness";
import { expectWellFormed, plain } from "./well-formed";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const strand = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, date: "2027-03-20" };
type Query = Record<string, string | number>;

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [demo] }) });
});

async function pictureOf(path: string, query: Query = {}): Promise<string> {
  const response = await get(app, path, { ...strand, ...query });
  const markup = await response.text();
  expect(response.status, markup).toBe(200);
  expect(response.headers.get("Content-Type")).toBe("image/svg+xml");
  expect(response.headers.get("Content-Security-Policy")).toContain("default-src 'none'");
  expectWellFormed(markup);
  return markup;
}
const elementOf = (markup: string, name: string): string =>
  plain(new RegExp(`<${name} id="[a-z]+">([^<]*)</${name}>`).exec(markup)?.[1] ?? "");
const texts = (markup: string): string[] =>
  [...markup.matchAll(/<text [^>]*>([^<]*)</g)].map(([, text]) => plain(text as string));
const rectangles = (markup: string, look: string) =>
  [...markup.matchAll(new RegExp(`<rect class="${look}" x="([\\d.-]+)" y="([\\d.-]+)" width="([\\d.-]+)"`, "g"))].map(
    ([, x, , width]) => ({ from: Number(x), to: Number(x) + Number(width) }),
  );

describe("GET /v1/light-windows.svg", () => {
  it("shows the day's direct light at its place along the day, and what terrain hides of it", async () => {
    const markup = await pictureOf("/v1/light-windows.svg", { width: 1200 });
    const { directLight } = await answer<{ directLight: { firstInstant: string; lastInstant: string } }>(
      get(app, "/v1/light-windows", strand),
    );
    const [lit] = rectangles(markup, "lit");
    const margin = 14;
    const along = (instant: string) =>
      margin + ((Date.parse(instant) - Date.parse("2027-03-20T00:00:00Z")) / 86_400_000) * (1200 - 2 * margin);
    expect(lit?.from).toBeCloseTo(along(directLight.firstInstant), 0);
    expect(lit?.to).toBeCloseTo(along(directLight.lastInstant), 0);
    expect(rectangles(markup, "hidden")).toHaveLength(2);
    for (const instant of [directLight.firstInstant, directLight.lastInstant]) {
      expect(texts(markup)).toContain(instant.slice(11, 16));
    }
  });

  it("tells the same in words", async () => {
    const markup = await pictureOf("/v1/light-windows.svg");
    expect(elementOf(markup, "title")).toBe("Light of 2027-03-20, Ardvane Strand");
    expect(elementOf(markup, "desc")).toMatch(
      /^Direct light \d\d:\d\d–\d\d:\d\d; terrain takes \d+ min\. Times of Europe\/London\. Take care: Never look at the sun/,
    );
  });

  it.each([400, 800])("draws every caution of the answer whole, %i px wide", async (width) => {
    const markup = await pictureOf("/v1/light-windows.svg", { width });
    const { cautions } = await answer<{ cautions: { code: CautionCode }[] }>(get(app, "/v1/light-windows", strand));
    expect(cautions.length).toBeGreaterThan(0);
    const drawn = texts(markup).join(" ");
    for (const { code } of cautions) {
      expect(drawn).toContain(en.caution[code]);
      expect(elementOf(markup, "desc")).toContain(en.caution[code]);
    }
  });

  it("knows days without a night, without a sun, and of 23 and 25 hours", async () => {
    const flat = { horizon: "flat" };
    const midsummer = await pictureOf("/v1/light-windows.svg", { ...flat, latitude: 70, date: "2027-06-20" });
    expect(elementOf(midsummer, "desc")).toContain("Direct light all day");
    const midwinter = await pictureOf("/v1/light-windows.svg", { ...flat, latitude: 75, date: "2027-12-20" });
    expect(elementOf(midwinter, "desc")).toContain("No direct light");
    expect(rectangles(midwinter, "lit")).toEqual([]);
    expect(rectangles(midwinter, "day")).toEqual([]);
    for (const date of ["2027-03-28", "2027-10-31"]) {
      const [lit] = rectangles(await pictureOf("/v1/light-windows.svg", { ...flat, date }), "lit");
      expect(lit).toBeDefined();
    }
  });
});

describe("GET /v1/forecast.svg", () => {
  it("carries the headline, the lines and the cautions, drawn and as a text alternative", async () => {
    const told = await answer<{
      readonly headline: string;
      readonly summary: readonly { readonly text: string }[];
      readonly cautions: readonly { readonly code: CautionCode }[];
    }>(get(app, "/v1/forecast", { ...strand, cloudHigh: 40 }));
    for (const width of [400, 800, 1200]) {
      const markup = await pictureOf("/v1/forecast.svg", { cloudHigh: 40, width });
      const drawn = texts(markup).join(" ");
      expect(drawn).toContain(told.headline);
      for (const { code } of told.cautions) expect(drawn).toContain(en.caution[code]);
      const alternative = elementOf(markup, "desc");
      for (const { text } of told.summary) expect(alternative).toContain(text);
      for (const { code } of told.cautions) expect(alternative).toContain(en.caution[code]);
      expect(drawn).toMatch(/last light \d\d:\d\d/);
    }
  });

  it("shows the light past midnight as the next day has it, and before it as the day before had", async () => {
    const flat = { horizon: "flat", width: 1200 };
    const midnightSun = { ...flat, latitude: 69.65, longitude: 18.96, date: "2026-06-21" };
    for (const session of ["evening", "morning"]) {
      const markup = await pictureOf("/v1/forecast.svg", { ...midnightSun, session });
      expect(rectangles(markup, "hidden"), session).toEqual([]);
      const from = (look: string) => Math.min(...rectangles(markup, look).map((one) => one.from));
      const to = (look: string) => Math.max(...rectangles(markup, look).map((one) => one.to));
      expect(from("lit")).toBeCloseTo(16.8, 1);
      expect(to("lit")).toBeCloseTo(1200 - 16.8, 1);
      // the sun is low from the first moment to the last, not yet on arrival
      expect(from("golden")).toBeGreaterThan(100);
      expect(to("golden")).toBeGreaterThan(1100);
      expect(to("golden")).toBeLessThan(1200 - 16.8);
    }
    // here the sun sets three minutes after midnight, and the card ends twenty minutes after that
    const markup = await pictureOf("/v1/forecast.svg", {
      ...flat,
      latitude: 64.1,
      longitude: -21.9,
      date: "2027-06-21",
    });
    const [lit, ...others] = rectangles(markup, "lit");
    expect(others).toEqual([]);
    const [day] = rectangles(markup, "day");
    expect(lit?.to).toBeCloseTo(day?.to as number, 0);
    expect(lit?.to).toBeLessThan(1100);
    expect(rectangles(markup, "hidden")).toEqual([]);
  });

  it("keeps all of its text within its sides", async () => {
    for (const width of [400, 1200]) {
      const markup = await pictureOf("/v1/forecast.svg", {
        width,
        session: "morning",
        temperatureC: 4,
        relativeHumidity: 97,
      });
      const placed = [
        ...markup.matchAll(
          /<text [^>]*?x="([\d.-]+)" y="[\d.-]+" font-size="([\d.]+)"( text-anchor="middle")?>([^<]*)</g,
        ),
      ];
      expect(placed.length).toBeGreaterThan(10);
      for (const [, x, size, middle, text] of placed) {
        const wide = textWidth(plain(text as string), Number(size));
        const from = middle === undefined ? Number(x) : Number(x) - wide / 2;
        expect(from, text).toBeGreaterThanOrEqual(0);
        expect(from + wide, text).toBeLessThanOrEqual(width + 1);
      }
    }
  });

  it.each([
    "<script>alert(1)</script>",
    "</svg><script>",
    '" onload="alert(1)',
    "\u0000\u202eturned",
    "&amp;<![CDATA[",
  ])("shows the name %j as text, in card and strip", async (name) => {
    for (const path of ["/v1/forecast.svg", "/v1/light-windows.svg"]) {
      const markup = await pictureOf(path, { name });
      expect(markup).not.toMatch(/<script|<!\[CDATA| onload="/);
    }
  });

  it.each([319, 2401, "wide"])("refuses the width %s", async (width) => {
    for (const path of ["/v1/forecast.svg", "/v1/light-windows.svg"]) {
      expect(await refusedFields(get(app, path, { ...strand, width }))).toEqual(["query:width"]);
    }
  });
});

describe("the band's colours", () => {
  it("are the same set in light and dark", () => {
    const [day, night] = [...LIGHT_BAND_STYLE.matchAll(/svg\{([^}]+)\}/g)].map(([, colours]) =>
      [...(colours as string).matchAll(/--(\w+):#[0-9a-f]{6}/g)].map(([, name]) => name),
    );
    expect(day).toHaveLength(6);
    expect(night).toEqual(day);
  });
});

describe("while the sun is up", () => {
  const at = (hour: number) => new Date(hour * 3_600_000).toISOString();
  const event = (name: "sunrise" | "sunset", hour: number) => ({ name, instant: at(hour), azimuthDeg: 0 });
  const hours = (spans: readonly (readonly [number, number])[]) =>
    spans.map(([a, b]) => [a / 3_600_000, b / 3_600_000]);
  const up = (events: ReturnType<typeof event>[], polar: "none" | "day" | "night" = "none") =>
    hours(sunUp({ events, polar }, 0, 24 * 3_600_000));

  it("is from rise to set, over the day's ends where it must be", () => {
    expect(up([event("sunrise", 6), event("sunset", 18)])).toEqual([[6, 18]]);
    expect(up([event("sunset", 1), event("sunrise", 3)])).toEqual([
      [0, 1],
      [3, 24],
    ]);
    expect(up([event("sunrise", 3)])).toEqual([[3, 24]]);
    expect(up([], "day")).toEqual([[0, 24]]);
    expect(up([], "night")).toEqual([]);
  });

  it("leaves what the direct light does not take", () => {
    const hour = 3_600_000;
    expect(
      hours(
        without(
          [[6 * hour, 18 * hour]],
          [
            [7 * hour, 9 * hour],
            [10 * hour, 17 * hour],
          ],
        ),
      ),
    ).toEqual([
      [6, 7],
      [9, 10],
      [17, 18],
    ]);
    expect(without([[6 * hour, 18 * hour]], [[6 * hour + 30_000, 18 * hour]])).toEqual([]);
  });
});

describe("wrapText", () => {
  it("keeps every word in order, in lines of the width, where there is room for all", () => {
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z]{1,8}$/), { minLength: 1, maxLength: 30 }), (words) => {
        const lines = wrapText(words.join(" "), 12, 200, 100);
        expect(lines.join(" ")).toBe(words.join(" "));
        for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(200);
      }),
    );
  });

  it("cuts the last line where more is left", () => {
    const lines = wrapText("one two three four five six seven eight nine ten", 12, 80, 2);
    expect(lines).toHaveLength(2);
    expect(lines[1]).toMatch(/…$/);
  });
});
