import { type Night, nextDate, nightOf, type Timing, tonight } from "@fieldstop/nightly/schedule/night";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const evening = (timeZone: string, postAt = "15:00"): Timing => ({ timeZone, postAt, session: "evening", leadDays: 0 });
const due = (timing: Timing, date: string): string | undefined => {
  const night = nightOf(timing, date);
  return night && new Date(night.dueMs).toISOString();
};

describe("when a night is posted", () => {
  it.each([
    ["an ordinary day", evening("Europe/London"), "2027-01-20", "2027-01-20T15:00:00.000Z"],
    ["in summer time", evening("Europe/London"), "2027-07-20", "2027-07-20T14:00:00.000Z"],
    ["a leap day", evening("Europe/London"), "2028-02-29", "2028-02-29T15:00:00.000Z"],
    ["45 minutes off the hour", evening("Asia/Kathmandu"), "2027-01-20", "2027-01-20T09:15:00.000Z"],
    ["45 minutes and summer time", evening("Pacific/Chatham"), "2027-01-20", "2027-01-20T01:15:00.000Z"],
    ["the first place of the day", evening("Pacific/Kiritimati"), "2027-01-20", "2027-01-20T01:00:00.000Z"],
    ["the last place of the day", evening("Pacific/Pago_Pago"), "2027-01-20", "2027-01-21T02:00:00.000Z"],
    // the clocks go from 01:00 to 02:00
    ["an hour that does not exist", evening("Europe/London", "01:30"), "2027-03-28", "2027-03-28T01:30:00.000Z"],
    // they go from 02:00 back to 01:00: the first of the two
    ["an hour that comes twice", evening("Europe/London", "01:30"), "2027-10-31", "2027-10-31T00:30:00.000Z"],
    // half an hour is skipped here
    ["half an hour skipped", evening("Australia/Lord_Howe", "02:15"), "2027-10-03", "2027-10-02T15:45:00.000Z"],
    // midnight itself does not exist
    ["no midnight", evening("America/Asuncion", "00:00"), "2024-10-06", "2024-10-06T04:00:00.000Z"],
  ])("%s", (_, timing, date, expected) => {
    expect(due(timing, date)).toBe(expected);
  });

  it("is never on a day that a place skipped in crossing the date line", () => {
    expect(nightOf(evening("Pacific/Apia"), "2011-12-30")).toBeUndefined();
    expect(due(evening("Pacific/Apia"), "2011-12-29")).toBe("2011-12-30T01:00:00.000Z");
    expect(due(evening("Pacific/Apia"), "2011-12-31")).toBe("2011-12-31T01:00:00.000Z");
  });

  it("is on the day before, for a morning", () => {
    const timing: Timing = { timeZone: "Europe/London", postAt: "19:00", session: "morning", leadDays: 1 };
    expect(due(timing, "2027-01-21")).toBe("2027-01-20T19:00:00.000Z");
    expect(tonight(timing, Date.parse("2027-01-20T20:00:00Z"))).toBe("2027-01-21");
  });
});

const ZONES = Intl.supportedValuesOf("timeZone");
const timings = fc.record({
  timeZone: fc.constantFrom(...ZONES),
  postAt: fc
    .tuple(fc.nat(23), fc.nat(59))
    .map(([h, m]) => `${String(h).padStart(2, "0")}:${String(m).padStart(2, "0")}`),
  session: fc.constantFrom("evening" as const, "morning" as const),
  leadDays: fc.nat(7),
});
const dates = fc
  .date({ min: new Date("2000-01-01"), max: new Date("2060-12-31"), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));

/** What the clock on the wall there shows, told by the runtime rather than by the library that the code uses. */
function wall(timeZone: string, ms: number): { date: string; time: string } {
  const text = new Intl.DateTimeFormat("sv-SE", { timeZone, dateStyle: "short", timeStyle: "short" }).format(ms);
  const [date, time] = text.split(" ") as [string, string];
  return { date, time };
}

describe("in every zone", () => {
  it("the wall shows the hour of the posting, or the clocks skipped it", () => {
    fc.assert(
      fc.property(timings, dates, (timing, date) => {
        const night = nightOf(timing, date);
        if (night === undefined) return;
        const shown = wall(timing.timeZone, night.dueMs);
        expect(nextDate(shown.date, timing.leadDays)).toBe(date);
        if (shown.time === timing.postAt) return;
        expect(shown.time > timing.postAt).toBe(true);
        // right before the skip the wall showed an earlier hour than that of the posting
        const skippedMs = minutes(shown.time) - minutes(timing.postAt);
        expect(wall(timing.timeZone, night.dueMs - skippedMs * 60_000).time < timing.postAt).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  it("nights follow one another, each over after it is due", () => {
    fc.assert(
      fc.property(timings, dates, (timing, date) => {
        const nights = [date, nextDate(date), nextDate(date, 2)]
          .map((day) => nightOf(timing, day))
          .filter((night): night is Night => night !== undefined);
        expect(nights.length).toBeGreaterThanOrEqual(2);
        for (const [index, night] of nights.entries()) {
          expect(night.overMs).toBeGreaterThan(night.dueMs);
          const after = nights[index + 1];
          if (after !== undefined) expect(after.dueMs).toBeGreaterThan(night.dueMs);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it("a posting at its hour is about its own night", () => {
    fc.assert(
      fc.property(timings, dates, (timing, date) => {
        const night = nightOf(timing, date);
        if (night !== undefined) expect(tonight(timing, night.dueMs)).toBe(date);
      }),
      { numRuns: 1000 },
    );
  });
});

function minutes(time: string): number {
  const [hours, rest] = time.split(":").map(Number) as [number, number];
  return 60 * hours + rest;
}
