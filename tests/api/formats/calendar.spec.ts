import { fileURLToPath } from "node:url";
import { calendar } from "@fieldstop/api/formats/calendar";
import type { CautionCode } from "@fieldstop/core";
import { createTerrain } from "@fieldstop/terrain";
import ICAL from "ical.js";
import { beforeAll, describe, expect, it } from "vitest";
import { en } from "../../../apps/api/src/formats/messages/en";
import { answer, get, NOW, refusedFields, type TestApp, testApp } from "../harness";

// Calendars are read back by a parser that knows nothing of what wrote them.

const demo = fileURLToPath(new URL("../../../demo/elevation", import.meta.url));
const strand = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };
type Query = Record<string, string | number>;

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [demo] }) });
});

async function calendarOf(path: string, query: Query = {}, asked: TestApp = app) {
  const response = await get(asked, path, { ...strand, ...query });
  const text = await response.text();
  expect(response.status, text).toBe(200);
  expect(response.headers.get("Content-Type")).toBe("text/calendar; charset=utf-8");
  // RFC 5545, 3.1: lines end in CRLF and hold at most 75 octets
  expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  for (const line of text.split("\r\n")) expect(Buffer.byteLength(line), line).toBeLessThanOrEqual(75);
  const component = new ICAL.Component(ICAL.parse(text) as unknown as string);
  const events = component.getAllSubcomponents("vevent").map((one) => ({
    event: new ICAL.Event(one),
    stamp: one.getFirstPropertyValue("dtstamp") as unknown as ICAL.Time,
    modified: one.getFirstPropertyValue("last-modified") as unknown as ICAL.Time,
  }));
  return { text, component, events };
}

interface Told {
  readonly id: string;
  readonly arriveBy: string;
  readonly stayUntil: string;
  readonly headline: string;
  readonly cautions: readonly { readonly code: CautionCode }[];
}
const forecast = (query: Query) => answer<Told>(get(app, "/v1/forecast", { ...strand, ...query }));
const seconds = (instant: string) => Math.round(Date.parse(instant) / 1000);

describe("GET /v1/forecast.ics", () => {
  it("has an entry for each of the coming days, from arriving to leaving, as the JSON says", async () => {
    const { component, events } = await calendarOf("/v1/forecast.ics");
    expect(component.getFirstPropertyValue("version")).toBe("2.0");
    expect(component.getFirstPropertyValue("prodid")).toMatch(/Fieldstop/);
    expect(String(component.getFirstPropertyValue("refresh-interval"))).toBe("PT6H");
    expect(events).toHaveLength(7);
    for (const [i, { event }] of events.entries()) {
      const told = await forecast({ date: `2027-03-${20 + i}` });
      expect(event.uid).toBe(`${told.id}@fieldstop`);
      expect(event.startDate.toUnixTime()).toBe(seconds(told.arriveBy));
      expect(event.endDate.toUnixTime()).toBe(seconds(told.stayUntil));
      expect(event.summary).toBe(told.headline);
      for (const { code } of told.cautions) expect(event.description).toContain(en.caution[code]);
      expect(event.location).toBe("Ardvane Strand");
    }
  });

  it("is right on both sides of a change of clocks", async () => {
    const { events } = await calendarOf("/v1/forecast.ics", { date: "2027-03-27", days: 2 });
    const [before, after] = events.map(({ event }) => event.startDate.toUnixTime());
    // in universal time one evening follows another by a day and some two minutes, whatever the clocks do
    expect(Number(after) - Number(before) - 86_400).toBeGreaterThan(60);
    expect(Number(after) - Number(before) - 86_400).toBeLessThan(200);
    expect(events[1]?.event.description).toContain("Times of Europe/London");
  });

  it("is the same to the byte each time, and keeps its ids whatever the weather and the name", async () => {
    const [one, two] = await Promise.all([calendarOf("/v1/forecast.ics"), calendarOf("/v1/forecast.ics")]);
    expect(two.text).toBe(one.text);
    const other = await calendarOf("/v1/forecast.ics", { cloudHigh: 60, name: "Strand" });
    expect(other.events.map(({ event }) => event.uid)).toEqual(one.events.map(({ event }) => event.uid));
    expect(new Set(one.events.map(({ event }) => event.uid)).size).toBe(7);
  });

  it("bears the time of the weather in it", async () => {
    const issuedMs = Date.parse(NOW) - 3_600_000;
    const withWeather = testApp({
      weather: {
        at: async (_latitude, _longitude, validForMs) => ({
          provider: "Skerry Weather",
          attribution: "Weather data from Skerry Weather",
          licenceUrl: "https://weather.ardvane.example/licence",
          issuedMs,
          validForMs,
          cloudCover: { low: 10, middle: 30, high: 50 },
          stale: false,
        }),
      },
    });
    const { events } = await calendarOf("/v1/forecast.ics", { days: 1 }, withWeather);
    expect(events[0]?.stamp.toUnixTime()).toBe(issuedMs / 1000);
    expect(events[0]?.modified.toUnixTime()).toBe(issuedMs / 1000);
    expect(events[0]?.event.description).toContain("Weather data from Skerry Weather, made at 2027-03-20 16:00.");
  });

  it("leaves out days that have no answer, and says why where none has", async () => {
    const { events } = await calendarOf("/v1/forecast.ics", { date: "2100-12-30", days: 4 });
    expect(events).toHaveLength(2);
    const query = { ...strand, date: "2101-01-01" };
    expect(await refusedFields(get(app, "/v1/forecast.ics", query), 422)).toEqual(["query:date"]);
  });

  it("has an entry for each day of a polar night", async () => {
    // the sun's last civil twilight before it falls within these days
    const { events } = await calendarOf("/v1/forecast.ics", { latitude: 73, date: "2027-12-01", days: 14 });
    expect(events).toHaveLength(14);
    expect(events.at(-1)?.event.summary).toContain("The sun does not rise: it is highest at");
  });

  it.each([
    "a, b; c \\ d: e",
    "Strand\r\nATTACH:http://evil.example/\r\nX:",
    "Strand\nEND:VEVENT\nEND:VCALENDAR",
    "Ströndin við Árdvane 🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊🌊",
    "\u202eturned\u2028line\u0000",
    '"; VALUE=URI:x',
  ])("keeps the name %j in its place", async (name) => {
    const { events, component } = await calendarOf("/v1/forecast.ics", { name, days: 1 });
    expect(component.getAllProperties().map((one) => one.name)).not.toContain("attach");
    expect(events).toHaveLength(1);
    const location = events[0]?.event.location ?? "";
    expect(location).not.toMatch(/[\p{Cc}\u2028\u202e]/u);
    const letters = (text: string) => text.replace(/[\s\p{Cc}\u2028\u202e]/gu, "");
    expect(letters(location)).toBe(letters(name));
  });

  it.each([0, 15, 1.5, "seven"])("refuses %s days", async (days) => {
    expect(await refusedFields(get(app, "/v1/forecast.ics", { ...strand, days }))).toEqual(["query:days"]);
  });
});

describe("GET /v1/light-windows.ics", () => {
  it("has direct light, golden and blue hours of each day, as the JSON says", async () => {
    const { events } = await calendarOf("/v1/light-windows.ics", { date: "2027-03-20", days: 2 });
    const light = await answer<{
      readonly windows: readonly { readonly kind: string; readonly start: string; readonly end: string }[];
      readonly directLight: { readonly intervals: readonly { readonly start: string; readonly end: string }[] };
    }>(get(app, "/v1/light-windows", { ...strand, date: "2027-03-20" }));
    const expected = [
      ...light.directLight.intervals.map((one) => ({ kind: "Direct light", ...one })),
      ...light.windows
        .filter(({ kind }) => kind === "golden-hour" || kind === "blue-hour")
        .map((one) => ({ ...one, kind: one.kind === "golden-hour" ? "Golden hour" : "Blue hour" })),
    ];
    expect(expected.length).toBeGreaterThanOrEqual(5);
    for (const { kind, start, end } of expected) {
      const found = events.filter(
        ({ event }) =>
          event.summary === kind &&
          event.startDate.toUnixTime() === seconds(start) &&
          event.endDate.toUnixTime() === seconds(end),
      );
      expect(found, `${kind} at ${start}`).toHaveLength(1);
    }
    expect(new Set(events.map(({ event }) => event.uid)).size).toBe(events.length);
    expect(events.length).toBe(2 * expected.length);
  });
});

describe("a calendar of many entries", () => {
  const entries = Array.from({ length: 37 }, (_, i) => ({
    id: `entry-${i}`,
    start: "2027-03-20T18:00:00Z",
    end: "2027-03-20T19:00:00Z",
    summary: `Light ${i}\r\nEND:VCALENDAR`,
    description: "BEGIN:VEVENT\r\nEND:VEVENT\r\nEND:VCALENDAR",
    revisedMs: Date.UTC(2027, 0, 1),
  }));

  it("has each once, in order", async () => {
    const text = await calendar("Light\r\nBEGIN:VEVENT", strand, entries);
    const component = new ICAL.Component(ICAL.parse(text) as unknown as string);
    const ids = component.getAllSubcomponents("vevent").map((one) => one.getFirstPropertyValue("uid"));
    expect(ids).toEqual(entries.map(({ id }) => `${id}@fieldstop`));
    expect(text.match(/^END:VCALENDAR\r$/gm)).toHaveLength(1);
  });

  it("may have none", async () => {
    const component = new ICAL.Component(ICAL.parse(await calendar("Light", strand, [])) as unknown as string);
    expect(component.getAllSubcomponents("vevent")).toEqual([]);
  });
});
