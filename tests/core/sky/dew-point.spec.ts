import { dewPoint } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("gives the dew point of air at 10 °C and 80 %", () => {
    expect(dewPoint(10, 80).dewPointC).toBeCloseTo(6.71, 2);
  });
});

describe("dewPoint", () => {
  // Saturation pressures by the same constants (Sonntag 1990): e(T) = 6.112·exp(17.62 T / (243.12 + T)) hPa
  it("is the temperature at which the vapour that is there would saturate the air", () => {
    const pressure = (c: number): number => 6.112 * Math.exp((17.62 * c) / (243.12 + c));
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 55, noNaN: true }),
        fc.double({ min: 2, max: 100, noNaN: true }),
        (t, rh) => {
          expect(pressure(dewPoint(t, rh).dewPointC)).toBeCloseTo((pressure(t) * rh) / 100, 8);
        },
      ),
    );
  });

  it("is the air's own temperature when the air is saturated, and fog is then likely", () => {
    expect(dewPoint(4, 100)).toMatchObject({ dewPointC: expect.closeTo(4, 9), fogRisk: "likely" });
  });

  it("reckons with glass that is colder or warmer than the air", () => {
    expect(dewPoint(10, 70, 4).fogRisk).toBe("likely");
    expect(dewPoint(10, 95, 20).fogRisk).toBe("low");
  });

  it.each([
    [70, 50, "temperatureC"],
    [10, 0, "relativeHumidity"],
    [10, Number.NaN, "relativeHumidity"],
  ])("refuses %s °C and %s %%", (t, rh, param) => {
    expect(() => dewPoint(t, rh)).toThrow(expect.objectContaining({ param }));
  });
});
