import { Breaker } from "@fieldstop/api/redis/breaker";
import { describe, expect, it } from "vitest";

describe("a circuit breaker", () => {
  /** A breaker and its clock. */
  function started() {
    const clock = { nowMs: 0 };
    return { clock, breaker: new Breaker(() => clock.nowMs) };
  }

  it("opens after a few failures, lets one try after each rest, and closes when that works", () => {
    const { clock, breaker } = started();
    for (let i = 0; i < 3; i++) {
      expect(breaker.admits()).toBe(true);
      breaker.failed();
    }
    expect(breaker.isOpen).toBe(true);
    expect(breaker.admits()).toBe(false);
    clock.nowMs = 5000;
    expect([breaker.admits(), breaker.admits()]).toEqual([true, false]);
    clock.nowMs = 10_000;
    expect([breaker.admits(), breaker.admits()]).toEqual([true, false]);
    breaker.succeeded(clock.nowMs);
    expect(breaker.isOpen).toBe(false);
    expect([breaker.admits(), breaker.admits()]).toEqual([true, true]);
  });

  it("stays closed where few calls fail, and opens where every other does", () => {
    const { breaker } = started();
    for (let i = 0; i < 1000; i++) {
      breaker[i % 20 === 0 ? "failed" : "succeeded"](0);
    }
    expect(breaker.isOpen).toBe(false);
    for (let i = 0; i < 7; i++) breaker[i % 2 === 0 ? "failed" : "succeeded"](0);
    expect(breaker.isOpen).toBe(true);
  });

  it("is not closed by an answer to what was asked before it opened", () => {
    const { clock, breaker } = started();
    clock.nowMs = 100;
    breaker.open();
    breaker.succeeded(50);
    expect(breaker.isOpen).toBe(true);
  });

  it("rests longer where it has to open again at once, and as at first after a while without failures", () => {
    const { clock, breaker } = started();
    const restMs = (): number => {
      breaker.open();
      const sinceMs = clock.nowMs;
      while (!breaker.admits()) clock.nowMs += 100;
      breaker.succeeded(clock.nowMs);
      return clock.nowMs - sinceMs;
    };
    expect(Array.from({ length: 6 }, restMs)).toEqual([5000, 10_000, 20_000, 40_000, 60_000, 60_000]);
    for (let i = 0; i < 30; i++) breaker.succeeded(clock.nowMs);
    expect(restMs()).toBe(5000);
  });
});
