import { asReady } from "@fieldstop/api/formats/as-ready";
import { describe, expect, it } from "vitest";

const later = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe("asReady", () => {
  it("gives each result once, the quick before the slow", async () => {
    const order: number[] = [];
    const tasks = [40, 5, 20].map((ms, i) => async () => {
      await later(ms);
      return i;
    });
    for await (const i of asReady(tasks, 3)) order.push(i);
    expect(order).toEqual([1, 2, 0]);
  });

  it("never has more under way than it may, waiting results counted", async () => {
    let begun = 0;
    let taken = 0;
    let most = 0;
    const tasks = Array.from({ length: 30 }, () => async () => {
      begun++;
      most = Math.max(most, begun - taken);
      await later(1);
    });
    for await (const _ of asReady(tasks, 4)) {
      taken++;
      await later(3);
    }
    expect([begun, taken]).toEqual([30, 30]);
    expect(most).toBeLessThanOrEqual(5);
  });

  it("lets others have their turn between tasks that hold the thread", async () => {
    let turns = 0;
    const timer = setInterval(() => turns++, 1);
    const tasks = Array.from({ length: 10 }, () => async () => {
      const until = performance.now() + 5;
      while (performance.now() < until);
    });
    for await (const _ of asReady(tasks, 2));
    clearInterval(timer);
    expect(turns).toBeGreaterThanOrEqual(5);
  });

  it("begins no further task once the reader stops", async () => {
    let begun = 0;
    const tasks = Array.from({ length: 50 }, () => async () => begun++);
    for await (const _ of asReady(tasks, 3)) break;
    const atStop = begun;
    await later(20);
    expect(begun).toBe(atStop);
    expect(begun).toBeLessThanOrEqual(4);
  });

  it("passes a failure on", async () => {
    const tasks = [() => Promise.reject(new Error("no"))];
    await expect(asReady(tasks, 1).next()).rejects.toThrow("no");
  });
});
