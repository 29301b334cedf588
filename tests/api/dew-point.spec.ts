import { describe, expect, it } from "vitest";
import { answer, get, refusedFields, testApp } from "./harness";

const app = testApp();
const path = "/v1/dew-point";
const air = { temperatureC: 10, relativeHumidity: 80 };

describe("GET /v1/dew-point", () => {
  // Magnus formula with the constants of Sonntag 1990, by hand: ln 0.8 + 176.2/253.12 = 0.47296; 243.12·0.47296/17.14704 = 6.706
  it("tells the dew point, and takes the glass to be as warm as the air", async () => {
    const dew = await answer(get(app, path, air));
    expect(dew).toMatchObject({ fogRisk: "low", lensTemperatureC: 10 });
    expect(dew["dewPointC"]).toBeCloseTo(6.706, 2);
    expect(dew["spreadC"]).toBeCloseTo(10 - 6.706, 2);
    expect(dew["assumptions"]).toEqual([expect.objectContaining({ field: "lensTemperatureC", value: 10 })]);
  });

  it.each([
    [9, "possible"],
    [7.2, "likely"],
    [2, "likely"],
    [15, "low"],
  ])("reckons with glass at %d °C: %s", async (lensTemperatureC, fogRisk) => {
    const dew = await answer(get(app, path, { ...air, lensTemperatureC }));
    expect(dew).toMatchObject({ fogRisk, lensTemperatureC, assumptions: [] });
  });

  it.each([
    [{ temperatureC: 61 }, "query:temperatureC"],
    [{ temperatureC: "cold" }, "query:temperatureC"],
    [{ relativeHumidity: 0 }, "query:relativeHumidity"],
    [{ relativeHumidity: 101 }, "query:relativeHumidity"],
    [{ lensTemperatureC: -46 }, "query:lensTemperatureC"],
    [{ lensTemperatureC: "" }, "query:lensTemperatureC"],
    [{ humidity: 80 }, "query:humidity"],
  ])("refuses %j by name", async (bad, pointer) => {
    const query: Record<string, string | number> = { ...air };
    for (const [key, value] of Object.entries(bad)) query[key] = value;
    expect(await refusedFields(get(app, path, query))).toEqual([pointer]);
  });

  it("needs both temperature and humidity", async () => {
    expect(await refusedFields(get(app, path))).toEqual(["query:temperatureC", "query:relativeHumidity"]);
  });
});
