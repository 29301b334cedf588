import type { Assumption } from "@fieldstop/core";
import { sensorLatitude } from "@fieldstop/core/bracketing";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(sensorLatitude({ dynamicRangeStops: 11, headroomStops: 3 })).toEqual({ headroomStops: 3, footroomStops: 8 });
  });
});

describe("sensorLatitude", () => {
  it("says what it assumed, and nothing where all is known", () => {
    const assumptions: Assumption[] = [];
    expect(sensorLatitude({}, 100, assumptions, "camera.")).toEqual({ headroomStops: 3, footroomStops: 6 });
    expect(assumptions.map(({ field, value }) => [field, value])).toEqual([
      ["camera.headroomStops", 3],
      ["camera.footroomStops", 6],
    ]);
    const none: Assumption[] = [];
    expect(sensorLatitude({ headroomStops: 2.5, footroomStops: 7 }, 100, none)).toEqual({
      headroomStops: 2.5,
      footroomStops: 7,
    });
    expect(none).toEqual([]);
  });

  it("loses a stop for each doubling of ISO above the one of the measurement, and gains none below", () => {
    const measured = { dynamicRangeStops: 11, dynamicRangeIso: 100, headroomStops: 3 };
    expect(sensorLatitude(measured, 100).footroomStops).toBe(8);
    expect(sensorLatitude(measured, 800).footroomStops).toBe(5);
    expect(sensorLatitude(measured, 50).footroomStops).toBe(8);
    expect(sensorLatitude(measured).footroomStops).toBe(8);
  });

  it.each([
    ["headroomStops", "out-of-range", { headroomStops: -1 }],
    ["headroomStops", "out-of-range", { headroomStops: Number.NaN }],
    ["footroomStops", "out-of-range", { footroomStops: 17 }],
    ["footroomStops", "out-of-range", { footroomStops: 6, dynamicRangeStops: 10 }],
    ["dynamicRangeStops", "out-of-range", { dynamicRangeStops: 0 }],
    ["dynamicRangeStops", "impossible", { dynamicRangeStops: 2 }],
    ["dynamicRangeStops", "impossible", { dynamicRangeStops: 8, dynamicRangeIso: 100 }],
    ["dynamicRangeIso", "out-of-range", { dynamicRangeStops: 12, dynamicRangeIso: 0 }],
  ])("names %s (%s)", (param, code, input) => {
    expect(() => sensorLatitude(input, 6400)).toThrow(expect.objectContaining({ name: "DomainError", param, code }));
  });
});
