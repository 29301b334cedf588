import { MemoryWindows } from "@fieldstop/api/node/memory-windows";
import { describe, expect, it } from "vitest";

describe("windows in memory", () => {
  let nowMs = 1_000_000;
  const limit = { points: 3, windowSeconds: 60 };
  const open = () => new MemoryWindows(limit, () => nowMs);

  it("begin with a client's first request and end by themselves", () => {
    const windows = open();
    expect(windows.take("club", 2)).toEqual({ allowed: true, remaining: 1, resetSeconds: 60 });
    nowMs += 20_500;
    expect(windows.take("club", 1)).toEqual({ allowed: true, remaining: 0, resetSeconds: 40 });
    expect(windows.take("club", 1)).toEqual({ allowed: false, remaining: 0, resetSeconds: 40 });
    expect(windows.take("guest", 3)).toEqual({ allowed: true, remaining: 0, resetSeconds: 60 });
    nowMs += 39_499;
    expect(windows.take("club", 1)).toMatchObject({ allowed: false, resetSeconds: 1 });
    nowMs += 1;
    expect(windows.take("club", 1)).toEqual({ allowed: true, remaining: 2, resetSeconds: 60 });
    expect(windows.take("guest", 1)).toMatchObject({ allowed: false, resetSeconds: 21 });
  });

  it("refuse what costs more than a window holds", () => {
    expect(open().take("club", 4)).toMatchObject({ allowed: false, remaining: 0 });
  });

  it("are forgotten when they are over", () => {
    const windows = open();
    for (let i = 0; i < 1000; i++) windows.take(`client ${i}`, 1);
    expect(windows.size).toBe(1000);
    nowMs += 60_000;
    windows.take("club", 1);
    expect(windows.size).toBe(1);
  });
});
