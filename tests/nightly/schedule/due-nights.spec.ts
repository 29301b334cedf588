import { dueNights } from "@fieldstop/nightly/schedule/due-nights";
import { nextDate, nightOf, type Timing } from "@fieldstop/nightly/schedule/night";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const timing: Timing = { timeZone: "Europe/London", postAt: "15:00", session: "evening", leadDays: 0 };
const at = (instant: string, through?: string) => {
  const { due, missed } = dueNights(timing, through, Date.parse(instant));
  return { due: due.map(({ date }) => date), missed: missed.map(({ date }) => date) };
};

describe("what is due", () => {
  it("is nothing before its hour", () => {
    expect(at("2027-01-20T14:59:59Z", "2027-01-19")).toEqual({ due: [], missed: [] });
  });

  it("is the night whose hour has come", () => {
    expect(at("2027-01-20T15:00:00Z", "2027-01-19")).toEqual({ due: ["2027-01-20"], missed: [] });
  });

  it("is caught up while the night lies ahead", () => {
    expect(at("2027-01-20T23:59:00Z", "2027-01-19")).toEqual({ due: ["2027-01-20"], missed: [] });
  });

  it("is missed once the night is over", () => {
    expect(at("2027-01-23T12:00:00Z", "2027-01-19")).toEqual({
      due: [],
      missed: ["2027-01-20", "2027-01-21", "2027-01-22"],
    });
  });

  it("reaches not back before a place was first seen", () => {
    expect(at("2027-01-20T16:00:00Z")).toEqual({ due: ["2027-01-20"], missed: [] });
    expect(at("2027-01-20T12:00:00Z")).toEqual({ due: [], missed: [] });
  });

  it("does not stop for months after a clock was years ahead for a moment", () => {
    expect(at("2027-01-20T16:00:00Z", "2031-05-05")).toEqual({ due: ["2027-01-20"], missed: [] });
  });
});

describe("whenever somebody looks", () => {
  const zones = ["Europe/London", "Pacific/Apia", "Asia/Kathmandu", "Australia/Lord_Howe", "America/St_Johns"];

  it("each night is due or missed exactly once, in order, however irregular the looks", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.integer({ min: 0, max: 23 }),
        fc.array(fc.integer({ min: 1, max: 60 * 60 }), { minLength: 5, maxLength: 40 }),
        fc.date({ min: new Date("2011-12-01"), max: new Date("2029-12-31"), noInvalidDate: true }),
        (timeZone, hour, gapsMinutes, start) => {
          const place: Timing = { ...timing, timeZone, postAt: `${String(hour).padStart(2, "0")}:30` };
          let nowMs = start.getTime();
          const seen: string[] = [];
          let through: string | undefined;
          for (const gap of gapsMinutes) {
            const { due, missed } = dueNights(place, through, nowMs);
            const dealt = [...missed, ...due].map(({ date }) => date).filter((date) => !seen.includes(date));
            seen.push(...dealt.sort());
            through = seen.at(-1) ?? through;
            nowMs += gap * 60_000;
          }
          expect(seen).toEqual([...seen].sort());
          for (const [index, date] of seen.entries()) {
            const next = seen[index + 1];
            if (next === undefined) break;
            let follows = nextDate(date);
            while (nightOf(place, follows) === undefined) follows = nextDate(follows);
            expect(next).toBe(follows);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});
