import type { NoWeather, Weather } from "@fieldstop/api/weather/weather-source";
import { describe, expect, it } from "vitest";
import { answer, get, NOW, testApp } from "../harness";

interface Told {
  readonly weather?: Record<string, unknown>;
  readonly skyOutlook?: { readonly outlook: string };
  readonly dew?: { readonly dewPointC: number };
  readonly moments: readonly { readonly name: string; readonly instant: string }[];
  readonly assumptions: readonly { readonly field: string; readonly value: unknown; readonly why: string }[];
}

const asked: [number, number, number][] = [];
const weather: Weather = {
  provider: "Skerry Weather",
  attribution: "Weather data from Skerry Weather",
  licenceUrl: "https://weather.ardvane.example/licence",
  issuedMs: Date.parse(NOW) - 3_600_000,
  validForMs: Date.parse(NOW) + 3_600_000,
  cloudCover: { low: 10, middle: 30, high: 50 },
  temperatureC: 5,
  relativeHumidity: 90,
  stale: false,
};
const appWith = (found: Weather | NoWeather) =>
  testApp({
    weather: {
      at: async (...place) => {
        asked.push(place);
        return found;
      },
    },
  });
const strand = { latitude: 56.6, longitude: -9.4 };
const forecast = (found: Weather | NoWeather, query: Record<string, string | number> = {}) =>
  answer<Told>(get(appWith(found), "/v1/forecast", { ...strand, ...query }));
const cloudAssumptions = ({ assumptions }: Told) => assumptions.filter(({ field }) => field === "sky.cloudCover");

describe("a forecast with weather", () => {
  it("is asked for at the almanac's sunset, and passes on who made it", async () => {
    asked.length = 0;
    const told = await forecast(weather);
    const sunset = told.moments.find(({ name }) => name === "sunset")?.instant as string;
    const [latitude, longitude, instantMs] = asked[0] ?? [];
    expect([latitude, longitude]).toEqual([56.6, -9.4]);
    expect(Math.abs(Number(instantMs) - Date.parse(sunset))).toBeLessThan(60_000);
    expect(told.weather).toMatchObject({
      provider: "Skerry Weather",
      attribution: "Weather data from Skerry Weather",
      cloudCover: { low: 10, middle: 30, high: 50 },
      issuedAt: "2027-03-20T16:00:00+00:00",
      validFor: "2027-03-20T18:00:00+00:00",
      stale: false,
    });
    expect(told.weather?.["dewPointC"]).toBe(told.dew?.dewPointC);
    expect(told.skyOutlook?.outlook).toBe("likely");
    expect(cloudAssumptions(told)).toEqual([]);
  });

  it("takes a morning's weather at sunrise", async () => {
    asked.length = 0;
    await forecast(weather, { session: "morning" });
    expect(new Date(Number(asked[0]?.[2])).getUTCHours()).toBe(6);
  });

  it("takes that of the middle of a polar night's day, when there is most light", async () => {
    for (const session of ["evening", "morning"]) {
      asked.length = 0;
      await forecast(weather, { session, latitude: 85, longitude: 0, timeZone: "Etc/UTC", date: "2027-12-20" });
      expect(new Date(Number(asked[0]?.[2])).getUTCHours(), session).toBe(12);
    }
  });

  it("gives way to what the caller says of the sky", async () => {
    const told = await forecast(weather, { cloudLow: 95 });
    expect(told.skyOutlook?.outlook).toBe("unlikely");
    expect(told.dew?.dewPointC).toBeCloseTo(3.5, 1);
    asked.length = 0;
    const own = await forecast(weather, { cloudLow: 95, temperatureC: 10, relativeHumidity: 50 });
    expect(asked).toEqual([]);
    expect(own.weather).toBeUndefined();
  });

  it("says so when it is kept from before, when there is none, and when a level is missing", async () => {
    expect((await forecast({ ...weather, stale: true })).weather?.["stale"]).toBe(true);
    for (const [found, why] of [
      [{ why: "away" }, "away"],
      [{ why: "beyond-range" }, "beyond"],
    ] as const) {
      const told = await forecast(found);
      expect(told.weather).toBeUndefined();
      expect(cloudAssumptions(told)).toHaveLength(1);
      expect(cloudAssumptions(told)[0]?.why).toContain(why);
    }
    const { cloudCover: _, ...without } = weather;
    const told = await forecast(without);
    expect(told.skyOutlook).toBeUndefined();
    expect(cloudAssumptions(told)[0]?.why).toContain("nothing of cloud");
  });
});
