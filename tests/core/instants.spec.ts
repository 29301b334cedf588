import { addDays, DomainError, localDay, parseInstant, zoneClock } from "@fieldstop/core";
import { describe, expect, it } from "vitest";

const HOUR_MS = 3_600_000;
const hours = (date: string, zone: string): number => {
  const { startMs, endMs } = localDay(date, zone);
  return (endMs - startMs) / HOUR_MS;
};

describe("localDay", () => {
  it("is 24 hours on an ordinary day, and starts at local midnight", () => {
    const day = localDay("2027-03-20", "Atlantic/Azores");
    expect(new Date(day.startMs).toISOString()).toBe("2027-03-20T01:00:00.000Z");
    expect(day.endMs - day.startMs).toBe(24 * HOUR_MS);
  });

  // IANA time zone database: rules of the European Union, last Sundays of March and October
  it("is 23 and 25 hours on the days when clocks change", () => {
    expect(hours("2026-03-29", "Europe/London")).toBe(23);
    expect(hours("2026-10-25", "Europe/London")).toBe(25);
  });

  // IANA: Beirut changes at midnight, so that day has no 00:00
  it("starts at the first instant that the day has", () => {
    const { startMs } = localDay("2022-03-27", "Asia/Beirut");
    expect(zoneClock("Asia/Beirut").format(startMs)).toBe("2022-03-27T01:00:00+03:00");
  });

  // IANA: Samoa left out 30 December 2011 when it crossed the date line
  it("is empty for a day that a zone left out", () => {
    expect(hours("2011-12-30", "Pacific/Apia")).toBe(0);
    expect(hours("2011-12-31", "Pacific/Apia")).toBe(24);
  });

  it("has offsets of 45 minutes", () => {
    const { startMs } = localDay("2027-01-01", "Asia/Kathmandu");
    expect(new Date(startMs).toISOString()).toBe("2026-12-31T18:15:00.000Z");
    expect(zoneClock("Pacific/Chatham").format(startMs)).toMatch(/\+13:45$/);
  });

  it.each(["2027-02-30", "2027-13-01", "27-01-01", "2027-1-1", "", "2027-02-29"])("refuses the date %j", (date) => {
    expect(() => localDay(date, "Etc/UTC")).toThrow(DomainError);
  });

  it("takes leap days and the ends of the years it is held to", () => {
    expect(hours("2028-02-29", "Etc/UTC")).toBe(24);
    expect(hours("1900-01-01", "Etc/UTC")).toBe(24);
    expect(hours("2100-12-31", "Etc/UTC")).toBe(24);
  });

  it("says that a year out of range is impossible, not misspelt", () => {
    expect(() => localDay("1899-12-31", "Etc/UTC")).toThrow(
      expect.objectContaining({ code: "impossible", param: "date" }),
    );
    expect(() => localDay("2101-01-01", "Etc/UTC")).toThrow(expect.objectContaining({ code: "impossible" }));
  });

  it.each([
    "2027-03-20T00:00:00+01:00[Europe/Paris]",
    "2027-03-20T00:00Z",
    "20270320T0000Z",
    "+002027-03-20T00:00Z",
    "",
  ])("refuses %j for a zone, which is no name of one", (zone) => {
    expect(() => localDay("2027-01-01", zone)).toThrow(expect.objectContaining({ param: "timeZone" }));
  });

  it.each([
    "America/Argentina/Buenos_Aires",
    "America/Port-au-Prince",
    "Etc/GMT-14",
    "GMT+0",
    "EST5EDT",
    "+05:45",
    "-0330",
  ])("takes the zone %s", (zone) => {
    expect(hours("2027-01-01", zone)).toBe(24);
  });

  it("refuses a zone that does not exist", () => {
    expect(() => localDay("2027-01-01", "Ardvane/Strand")).toThrow(expect.objectContaining({ param: "timeZone" }));
  });
});

describe("zoneClock", () => {
  it("changes its offset at the transition, whichever side it was asked first", () => {
    // the clocks of the United Kingdom went forward at 01:00 UTC on 29 March 2026
    const change = Date.UTC(2026, 2, 29, 1);
    const clock = zoneClock("Europe/London");
    expect(clock.format(change)).toBe("2026-03-29T02:00:00+01:00");
    expect(clock.format(change - 1000)).toBe("2026-03-29T00:59:59+00:00");
    expect(clock.format(change + 1500)).toBe("2026-03-29T02:00:01.500+01:00");
  });

  it("writes an instant that reads back as the same instant, also in old local mean times", () => {
    for (const zone of ["Europe/Amsterdam", "Africa/Monrovia", "Asia/Kathmandu", "America/St_Johns"]) {
      const clock = zoneClock(zone);
      for (const ms of [Date.UTC(1905, 5, 1, 12, 0, 0), Date.UTC(1971, 0, 2), Date.UTC(2027, 6, 1, 23, 59, 59)]) {
        expect(parseInstant(clock.format(ms))).toBe(ms);
      }
    }
  });

  it("tells the calendar day at an instant", () => {
    const ms = Date.UTC(2027, 0, 1, 10, 30);
    expect(zoneClock("Pacific/Kiritimati").dateAt(ms)).toBe("2027-01-02");
    expect(zoneClock("Pacific/Pago_Pago").dateAt(ms)).toBe("2026-12-31");
  });
});

describe("parseInstant", () => {
  // RFC 3339, sections 5.7 and 5.8
  it("takes a second 60 where leap seconds are, in any offset, as the second before it, and nowhere else", () => {
    const last = Date.UTC(1990, 11, 31, 23, 59, 59);
    expect(parseInstant("1990-12-31T23:59:60Z")).toBe(last);
    expect(parseInstant("1990-12-31T15:59:60-08:00")).toBe(last);
    expect(parseInstant("2015-06-30T23:59:60.5Z")).toBe(Date.UTC(2015, 5, 30, 23, 59, 59, 500));
    for (const instant of ["2027-03-20T12:00:60Z", "1990-12-31T23:59:60-08:00", "2027-03-31T23:59:60Z"]) {
      expect(() => parseInstant(instant)).toThrow(
        expect.objectContaining({
          code: "out-of-range",
          given: instant,
          allowed: expect.stringContaining("leap second"),
        }),
      );
    }
    expect(() => parseInstant("2027-03-20T12:00:61Z")).toThrow(DomainError);
  });

  it("reads any offset", () => {
    expect(parseInstant("2027-03-20T18:30:00+05:45")).toBe(Date.UTC(2027, 2, 20, 12, 45));
    expect(parseInstant("2027-03-20T18:30:00.25Z")).toBe(Date.UTC(2027, 2, 20, 18, 30, 0, 250));
  });

  it.each([
    "2027-03-20T18:30:00",
    "2027-03-20",
    "2027-03-20 18:30:00Z",
    "2027-02-30T00:00:00Z",
    "2027-03-20T25:00:00Z",
    "NaN",
    "1e12",
  ])("refuses %j", (instant) => {
    expect(() => parseInstant(instant)).toThrow(expect.objectContaining({ code: "out-of-range", param: "instant" }));
  });

  it("refuses a year that the models are not held to", () => {
    expect(() => parseInstant("1850-01-01T00:00:00Z")).toThrow(expect.objectContaining({ code: "impossible" }));
  });
});

describe("addDays", () => {
  it("steps over months, years and leap days", () => {
    expect(addDays("2028-02-28", 1)).toBe("2028-02-29");
    expect(addDays("2027-12-31", 1)).toBe("2028-01-01");
    expect(addDays("2027-03-01", -1)).toBe("2027-02-28");
  });
});
