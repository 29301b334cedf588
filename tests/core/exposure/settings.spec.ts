import {
  apertureSeries,
  isoSeries,
  parseAperture,
  parseIso,
  parseShutter,
  readAperture,
  readIso,
  readShutter,
  shutterSeries,
} from "@fieldstop/core/exposure";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(readAperture(11).exact).toBeCloseTo(11.31, 2);
    expect(readShutter(30).seconds).toBe(32);
    expect(readIso(1250).exact).toBeCloseTo(1269.92, 2);
    expect(parseAperture("f/5.6").exact).toBeCloseTo(5.657, 3);
    expect(parseShutter("1/125").seconds).toBe(0.0078125);
    expect(parseIso("ISO 400").exact).toBe(400);
  });
});

describe("a typed number", () => {
  it("is read as the mark it is, and says so", () => {
    expect(readAperture(11)).toEqual({
      exact: 2 ** 3.5,
      nominal: "f/11",
      nominalValue: 11,
      offsetStops: 0,
      origin: "mark",
    });
    expect(readShutter(0.008)).toEqual({
      seconds: 1 / 128,
      nominal: "1/125 s",
      nominalSeconds: 0.008,
      offsetStops: 0,
      origin: "mark",
    });
  });

  it("is taken as it is where no dial has such a mark", () => {
    const setting = readAperture(6);
    expect(setting).toMatchObject({ exact: 6, nominal: "f/6.3", nominalValue: 6.3, origin: "value" });
    // f/6 is wider than the 6.35 that f/6.3 stands for: more light
    expect(setting.offsetStops).toBeCloseTo(2 * Math.log2(2 ** (16 / 6) / 6), 12);
    expect(setting.offsetStops).toBeGreaterThan(0);
  });

  it("may be a fraction of a second in three digits", () => {
    for (const [typed, text] of [
      [0.0167, "1/60 s"],
      [0.0333, "1/30 s"],
      [0.0667, "1/15 s"],
      [0.00313, "1/320 s"],
      [0.077, "1/13 s"],
      [1 / 60, "1/60 s"],
    ] as const) {
      expect(readShutter(typed)).toMatchObject({ nominal: text, origin: "mark" });
    }
    expect(readShutter(0.017)).toMatchObject({ seconds: 0.017, origin: "value" });
  });

  it("past 30 s is the time that it says", () => {
    expect(readShutter(60)).toMatchObject({ seconds: 60, nominal: "60 s", origin: "value" });
    expect(readShutter(60).offsetStops).toBeCloseTo(Math.log2(60 / 64), 12);
    expect(readShutter(240)).toMatchObject({ seconds: 240, nominal: "4 min" });
  });

  it("is a third before it is a half, unless the series is named", () => {
    expect(readAperture(13).exact).toBeCloseTo(12.699, 3);
    expect(readAperture(13, "half").exact).toBeCloseTo(13.454, 3);
    expect(readAperture(9.5).exact).toBeCloseTo(9.514, 3);
    expect(readAperture(9.5, "third")).toMatchObject({ exact: 9.5, origin: "value" });
    expect(readShutter(1 / 6).seconds).toBeCloseTo(0.1575, 4);
    expect(readShutter(1 / 6, "half").seconds).toBeCloseTo(0.1768, 4);
  });

  it("knows f/1.3 for the third that the tables print as f/1.2", () => {
    expect(readAperture(1.3).exact).toBe(readAperture(1.2).exact);
    expect(readAperture(1.3)).toMatchObject({ nominal: "f/1.2", origin: "mark" });
    expect(readAperture(1.2, "half").exact).toBeCloseTo(1.189, 3);
  });

  it("reads every mark up to 30 s as what it stands for", () => {
    for (const mark of apertureSeries()) expect(readAperture(mark.value).exact).toBe(mark.exact);
    for (const mark of isoSeries()) expect(readIso(mark.value).exact).toBe(mark.exact);
    const timed = shutterSeries().filter(({ value }) => value <= 30);
    expect(timed).toHaveLength(64);
    for (const mark of timed) expect(readShutter(mark.value).seconds).toBe(mark.exact);
  });
});

describe("a written setting", () => {
  it.each(["f/11", "F11", "f11", " f / 11 ", "11"])("takes the aperture %j", (text) => {
    expect(parseAperture(text).nominal).toBe("f/11");
  });
  it.each([
    ["1/125", 1 / 128],
    ["1/125 s", 1 / 128],
    ["1 / 125 sec", 1 / 128],
    ["0.5", 0.5],
    ["30", 32],
    ['30"', 32],
    ["30 s", 32],
    ["2 min", 120],
    ["2m", 120],
  ])("takes the time %j", (text, seconds) => {
    expect(parseShutter(text).seconds).toBe(seconds);
  });
  it.each(["ISO 400", "iso400", "400"])("takes the speed %j", (text) => {
    expect(parseIso(text).exact).toBe(400);
  });
  it.each(["", "f/", "f/x", "-11", "1e3", "f/0"])("refuses the aperture %j", (text) => {
    expect(() => parseAperture(text)).toThrow(expect.objectContaining({ param: "aperture" }));
  });
  it.each(["", "1/", "1/0", "0", "abc", "1/2/3", "NaN"])("refuses the time %j", (text) => {
    expect(() => parseShutter(text)).toThrow(expect.objectContaining({ param: "shutterSeconds" }));
  });
  it.each(["", "ISO", "-100", "ISO four"])("refuses the speed %j", (text) => {
    expect(() => parseIso(text)).toThrow(expect.objectContaining({ param: "iso" }));
  });
  it.each([
    ["aperture", parseAperture, "f"],
    ["shutterSeconds", parseShutter, "1"],
    ["iso", parseIso, "iso"],
  ])("refuses %s in text of a hundred thousand characters quickly", (param, parse, start) => {
    const startMs = performance.now();
    for (const filler of [" ", "1", "1.", "/"]) {
      expect(() => parse(`${start}${filler.repeat(100_000)}x`)).toThrow(expect.objectContaining({ param }));
    }
    // a pattern that goes back over each space for each other takes seconds
    expect(performance.now() - startMs).toBeLessThan(500);
  });
});
