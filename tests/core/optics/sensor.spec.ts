import { asHeld, readSensor, SENSOR_FORMAT_NAMES, type Sensor } from "@fieldstop/core/optics";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(readSensor("four-thirds").cropFactor).toBeCloseTo(1.999, 3);
  });
});

describe("readSensor", () => {
  it("knows the named formats, full frame being 1 by definition", () => {
    expect(SENSOR_FORMAT_NAMES).toEqual(
      expect.arrayContaining(["full-frame", "aps-c", "four-thirds", "one-inch", "medium-44x33", "medium-54x40"]),
    );
    for (const name of SENSOR_FORMAT_NAMES) {
      const { widthMm, heightMm, diagonalMm, cropFactor } = readSensor(name);
      expect(widthMm).toBeGreaterThanOrEqual(heightMm);
      expect(cropFactor * diagonalMm).toBeCloseTo(Math.hypot(36, 24), 9);
    }
    expect(readSensor("full-frame").cropFactor).toBe(1);
    expect(readSensor("medium-44x33").cropFactor).toBeCloseTo(0.79, 2);
  });

  it("finds pixel pitch and rows where the pixels across are known", () => {
    expect(readSensor({ widthMm: 36, heightMm: 24, widthPx: 6000 })).toMatchObject({ heightPx: 4000, pixelPitchUm: 6 });
    expect(readSensor({ widthMm: 36, heightMm: 24 })).not.toHaveProperty("pixelPitchUm");
  });

  it("turns with the camera", () => {
    const sensor = readSensor({ widthMm: 36, heightMm: 24, widthPx: 6000 });
    expect(asHeld(sensor, "landscape")).toEqual(sensor);
    expect(asHeld(sensor, "portrait")).toMatchObject({ widthMm: 24, heightMm: 36, widthPx: 4000, heightPx: 6000 });
    expect(asHeld(readSensor("aps-c"), "portrait")).not.toHaveProperty("widthPx");
  });

  it.each<[string, unknown]>([
    ["sensor", "fullframe"],
    ["sensor", "toString"],
    ["sensor.widthMm", { widthMm: 0, heightMm: 24 }],
    ["sensor.heightMm", { widthMm: 36, heightMm: Number.NaN }],
    ["sensor.widthPx", { widthMm: 36, heightMm: 24, widthPx: 1 }],
  ])("refuses %s of %j", (param, sensor) => {
    expect(() => readSensor(sensor as Sensor)).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });

  it("lists the names that are known", () => {
    expect(() => readSensor("crop" as Sensor)).toThrow(/full-frame, .*four-thirds.*or widthMm and heightMm/);
    expect(() => asHeld(readSensor("aps-c"), "sideways" as never)).toThrow(/landscape, portrait/);
  });
});
