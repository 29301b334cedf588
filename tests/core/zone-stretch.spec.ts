import { localDay, zoneClock } from "@fieldstop/core";
import fc from "fast-check";
import { Temporal } from "temporal-polyfill";
import { expect, it } from "vitest";
import { zoneStretchAt } from "../../packages/core/src/zone-stretch";

// zones that change twice a year, at midnight, by half an hour, by a day at once, never, in Ramadan, or that had local mean times to the second
const ZONES = [
  "Etc/UTC",
  "Europe/London",
  "Europe/Amsterdam",
  "Asia/Beirut",
  "America/Santiago",
  "America/Havana",
  "Australia/Lord_Howe",
  "Pacific/Apia",
  "Pacific/Kwajalein",
  "Pacific/Chatham",
  "Africa/Casablanca",
  "Africa/Monrovia",
  "America/St_Johns",
  "+05:45",
];
const zone = fc.constantFrom(...ZONES);
// days in a row, forward and backward, from anywhere in two centuries
const days = fc
  .tuple(
    fc.integer({ min: Date.UTC(1900, 0, 4) / 86_400_000, max: Date.UTC(2100, 11, 20) / 86_400_000 }),
    fc.constantFrom(1, -1, 3),
  )
  .map(([first, step]) => Array.from({ length: 4 }, (_, i) => (first + i * step) * 86_400_000));

it("keeps the days and the clocks that the time zone database gives, whatever was asked before", () => {
  fc.assert(
    fc.property(zone, days, (timeZone, midnights) => {
      for (const ms of midnights) {
        const date = new Date(ms).toISOString().slice(0, 10);
        const plain = Temporal.PlainDate.from(date);
        const day = localDay(date, timeZone);
        expect(day.startMs).toBe(plain.toZonedDateTime(timeZone).epochMilliseconds);
        expect(day.endMs).toBe(plain.add({ days: 1 }).toZonedDateTime(timeZone).epochMilliseconds);
        const clock = zoneClock(timeZone);
        for (const at of [day.startMs, day.endMs - 1, day.startMs + 12_345_678, day.startMs - 1]) {
          const local = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(timeZone);
          const minutes = Math.round(local.offsetNanoseconds / 6e10);
          const offset = new Date(Math.abs(minutes) * 60_000).toISOString().slice(11, 16);
          const text = new Date(at + minutes * 60_000).toISOString().replace(/(\.000)?Z$/, "");
          expect(clock.format(at)).toBe(`${text}${minutes < 0 ? "-" : "+"}${offset}`);
        }
      }
    }),
    { numRuns: 400 },
  );
});

it("knows the days on which zones moved", () => {
  // IANA: Kwajalein left out 21 August 1993, Samoa 30 December 2011
  for (const [date, timeZone] of [
    ["1993-08-21", "Pacific/Kwajalein"],
    ["2011-12-30", "Pacific/Apia"],
  ] as const) {
    for (let shift = -4; shift <= 4; shift++) {
      const plain = Temporal.PlainDate.from(date).add({ days: shift });
      const { startMs, endMs } = localDay(plain.toString(), timeZone);
      expect(startMs).toBe(plain.toZonedDateTime(timeZone).epochMilliseconds);
      expect(endMs).toBe(plain.add({ days: 1 }).toZonedDateTime(timeZone).epochMilliseconds);
    }
  }
});

it("ends a stretch where the offset changes", () => {
  // the clocks of the United Kingdom went forward at 01:00 UTC on 29 March 2026
  const change = Date.UTC(2026, 2, 29, 1);
  expect(zoneStretchAt("Europe/London", change - 1)).toMatchObject({ toMs: change, offsetMs: 0 });
  expect(zoneStretchAt("Europe/London", change)).toMatchObject({ fromMs: change, offsetMs: 3_600_000 });
});

it("refuses a zone that does not exist each time it is asked for", () => {
  for (let i = 0; i < 2; i++) expect(() => zoneStretchAt("Ardvane/Strand", 0)).toThrow(RangeError);
});
