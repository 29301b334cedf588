import type { ServerResponse } from "node:http";
import { fetchedWeather } from "@fieldstop/api/weather/fetched-weather";
import { metNorway } from "@fieldstop/api/weather/met-norway";
import { openMeteo } from "@fieldstop/api/weather/open-meteo";
import type { WeatherProvider } from "@fieldstop/api/weather/weather-provider";
import type { NoWeather, Weather } from "@fieldstop/api/weather/weather-source";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { metNorwayBody, openMeteoBody, type ProviderServer, startProvider } from "./provider-server";

const NOW = Date.UTC(2027, 2, 20, 12);
const HOUR = 3_600_000;
const LAST_MODIFIED = "Sat, 20 Mar 2027 11:45:00 GMT";

const details = (i: number) => ({
  air_temperature: 4 + i,
  relative_humidity: 80 + i,
  cloud_area_fraction: 55,
  cloud_area_fraction_low: 10 * i,
  cloud_area_fraction_medium: 30,
  cloud_area_fraction_high: 60.5,
});
const json = (response: ServerResponse, body: unknown, headers: Record<string, string> = {}, status = 200) => {
  response.writeHead(status, { "Content-Type": "application/json", ...headers });
  response.end(typeof body === "string" ? body : JSON.stringify(body));
};
const good = (response: ServerResponse) =>
  json(response, metNorwayBody(NOW, 9, details), {
    Date: new Date(NOW).toUTCString(),
    Expires: new Date(NOW + HOUR / 2).toUTCString(),
    "Last-Modified": LAST_MODIFIED,
  });

let nowMs = NOW;
let server: ProviderServer;
let warnings: string[] = [];
beforeEach(async () => {
  nowMs = NOW;
  warnings = [];
  server = await startProvider((_, response) => good(response));
});
afterEach(() => server.close());

const source = (provider: WeatherProvider = metNorway, more = {}) =>
  fetchedWeather({
    provider,
    baseUrl: server.baseUrl,
    userAgent: "Fieldstop/1.0.0 ranger@ardvane.example",
    nowMs: () => nowMs,
    warn: (message) => warnings.push(message),
    timeoutMs: 200,
    ...more,
  });
const reading = (found: Weather | NoWeather): Weather => {
  if ("why" in found) throw new Error(found.why);
  return found;
};

describe("MET Norway's form", () => {
  it("is asked as its terms want it: named, with four decimals that are cut", async () => {
    await source().at(56.60019, -9.41239, NOW + HOUR);
    const [request] = server.requests;
    expect(request?.url).toBe("/weatherapi/locationforecast/2.0/complete?lat=56.6001&lon=-9.4123");
    expect(request?.headers["user-agent"]).toBe("Fieldstop/1.0.0 ranger@ardvane.example");
    expect(request?.headers["accept-encoding"]).toContain("gzip");
    await source().at(-0.00001, 0, NOW + HOUR);
    expect(server.requests[1]?.url).toContain("lat=0.0000&lon=0.0000");
  });

  it("gives the hour that is asked for, with levels, air, origin and attribution", async () => {
    expect(reading(await source().at(56.6, -9.4, NOW + 3 * HOUR))).toEqual({
      provider: "MET Norway",
      attribution: metNorway.attribution,
      licenceUrl: metNorway.licenceUrl,
      issuedMs: NOW - 900_000,
      validForMs: NOW + 3 * HOUR,
      cloudCover: { low: 30, middle: 30, high: 60.5 },
      temperatureC: 7,
      relativeHumidity: 83,
      stale: false,
    });
  });

  it("gives what lies between two hours", async () => {
    const { cloudCover, temperatureC } = reading(await source().at(56.6, -9.4, NOW + 2.25 * HOUR));
    expect(cloudCover).toEqual({ low: 22.5, middle: 30, high: 60.5 });
    // to a tenth
    expect(temperatureC).toBe(6.3);
  });

  it("has nothing beyond its days", async () => {
    const weather = source();
    expect(await weather.at(56.6, -9.4, NOW + 8.1 * HOUR)).toEqual({ why: "beyond-range" });
    expect(await weather.at(56.6, -9.4, NOW - 1)).toEqual({ why: "beyond-range" });
    expect("why" in (await weather.at(56.6, -9.4, NOW + 8 * HOUR))).toBe(false);
  });

  it("leaves out what the provider leaves out, and what no air can be", async () => {
    server.answer = (_, response) =>
      json(
        response,
        metNorwayBody(NOW, 9, () => ({ air_temperature: 900, relative_humidity: 0, cloud_area_fraction_low: 10 })),
      );
    const found = reading(await source().at(56.6, -9.4, NOW + HOUR));
    expect(found).not.toHaveProperty("cloudCover");
    expect(found).not.toHaveProperty("temperatureC");
    expect(found).not.toHaveProperty("relativeHumidity");
  });

  it("of an older version still answers, and says that it will end", async () => {
    server.answer = (_, response) => json(response, metNorwayBody(NOW, 9, details), {}, 203);
    expect(reading(await source().at(56.6, -9.4, NOW)).temperatureC).toBe(4);
    expect(warnings).toHaveLength(1);
  });
});

describe("Open-Meteo's form", () => {
  it("is read column by column", async () => {
    const values: Record<string, number> = {
      temperature_2m: -3,
      relative_humidity_2m: 71,
      cloud_cover_low: 5,
      cloud_cover_mid: 40,
      cloud_cover_high: 100,
    };
    server.answer = (_, response) =>
      json(
        response,
        openMeteoBody(NOW - 12 * HOUR, 48, (name) => values[name] ?? 0),
      );
    const found = reading(await source(openMeteo).at(56.6, -9.4, NOW + 2 * HOUR));
    expect(found).toMatchObject({
      provider: "Open-Meteo",
      attribution: openMeteo.attribution,
      issuedMs: null,
      cloudCover: { low: 5, middle: 40, high: 100 },
      temperatureC: -3,
      relativeHumidity: 71,
    });
    expect(server.requests[0]?.url).toMatch(/^\/v1\/forecast\?latitude=56\.6000&longitude=-9\.4000&hourly=/);
    expect(server.requests[0]?.url).toContain("timeformat=unixtime");
  });

  it("has gaps at the end of its days, which are none of the weather", async () => {
    server.answer = (_, response) =>
      json(
        response,
        openMeteoBody(NOW, 10, (name, i) => (i > 5 && name === "cloud_cover_mid" ? null : 20)),
      );
    expect(reading(await source(openMeteo).at(56.6, -9.4, NOW + 7 * HOUR))).not.toHaveProperty("cloudCover");
  });

  it("says in words what it refuses; that is nobody's weather", async () => {
    server.answer = (_, response) => json(response, { error: true, reason: "no such variable" }, {}, 400);
    expect(await source(openMeteo).at(56.6, -9.4, NOW)).toEqual({ why: "away" });
  });
});

describe("an answer is kept", () => {
  it("until it expires, and then asked for only if it changed", async () => {
    const weather = source();
    await weather.at(56.6, -9.4, NOW);
    await weather.at(56.60001, -9.4, NOW + 5 * HOUR);
    expect(server.requests).toHaveLength(1);
    nowMs += HOUR / 2 + 1;
    server.answer = (request, response) => {
      expect(request.headers["if-modified-since"]).toBe(LAST_MODIFIED);
      response.writeHead(304, { Expires: new Date(nowMs + HOUR).toUTCString(), Date: new Date(nowMs).toUTCString() });
      response.end();
    };
    const again = reading(await weather.at(56.6, -9.4, NOW + 3 * HOUR));
    expect(server.requests).toHaveLength(2);
    expect(again).toMatchObject({ temperatureC: 7, stale: false });
    nowMs += HOUR - 1000;
    await weather.at(56.6, -9.4, NOW);
    expect(server.requests).toHaveLength(2);
  });

  it("once for all who ask for it at the same time", async () => {
    const weather = source();
    await Promise.all(Array.from({ length: 20 }, () => weather.at(56.6, -9.4, NOW)));
    expect(server.requests).toHaveLength(1);
  });

  it("for so many places and no more", async () => {
    const weather = source(metNorway, { mostPlaces: 3 });
    for (let i = 0; i < 5; i++) await weather.at(50 + i, 0, NOW);
    await weather.at(50, 0, NOW);
    expect(server.requests).toHaveLength(6);
    await weather.at(54, 0, NOW);
    expect(server.requests).toHaveLength(6);
  });
});

describe("a provider that fails", () => {
  const failures: Record<string, ProviderServer["answer"]> = {
    "with 500": (_, response) => json(response, "boom", {}, 500),
    "with 429": (_, response) => json(response, "slow down", { "Retry-After": "600" }, 429),
    "with a page of HTML": (_, response) => json(response, "<html>maintenance</html>", { "Content-Type": "text/html" }),
    "with another JSON": (_, response) => json(response, { hello: "world" }),
    "with nothing": (_, response) => json(response, ""),
    "with a book": (_, response) => json(response, "x".repeat(3_000_000)),
    "by hanging": () => undefined,
    "by breaking off": (_, response) => {
      response.writeHead(200, { "Content-Length": "1000" });
      response.write("{");
      setTimeout(() => response.destroy(), 10);
    },
    "with a 304 that nobody asked for": (_, response) => {
      response.writeHead(304);
      response.end();
    },
  };

  it.each(Object.entries(failures))("%s is away, is left alone, and is told of once", async (_, answer) => {
    server.answer = answer;
    const weather = source();
    expect(await weather.at(56.6, -9.4, NOW)).toEqual({ why: "away" });
    expect(await weather.at(56.7, -9.4, NOW)).toEqual({ why: "away" });
    expect(server.requests).toHaveLength(1);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).not.toMatch(/56\.|html|boom/i);
  });

  // a 304 is a good answer to those who asked for changes
  const failuresOfKept = Object.entries(failures).filter(([name]) => !name.includes("304"));
  it.each(failuresOfKept)("%s is stood in for by what was kept, marked as stale", async (_, answer) => {
    const weather = source();
    await weather.at(56.6, -9.4, NOW);
    nowMs += HOUR;
    server.answer = answer;
    expect(reading(await weather.at(56.6, -9.4, NOW + 2 * HOUR))).toMatchObject({ temperatureC: 6, stale: true });
    nowMs += 30 * HOUR;
    expect(await weather.at(56.6, -9.4, NOW + 2 * HOUR)).toEqual({ why: "away" });
  });

  it("is asked again after a while, longer with each failure, and as long as it asks for", async () => {
    server.answer = failures["with 500"] as ProviderServer["answer"];
    const weather = source();
    const askedAfter = async (ms: number) => {
      nowMs += ms;
      const before = server.requests.length;
      await weather.at(56.6, -9.4, NOW);
      return server.requests.length - before;
    };
    expect(await askedAfter(0)).toBe(1);
    expect(await askedAfter(9_000)).toBe(0);
    expect(await askedAfter(1_500)).toBe(1);
    expect(await askedAfter(15_000)).toBe(0);
    expect(await askedAfter(6_000)).toBe(1);
    server.answer = failures["with 429"] as ProviderServer["answer"];
    expect(await askedAfter(60_000)).toBe(1);
    expect(await askedAfter(590_000)).toBe(0);
    server.answer = (_, response) => good(response);
    expect(await askedAfter(15_000)).toBe(1);
    expect(reading(await weather.at(56.6, -9.4, NOW)).stale).toBe(false);
  });

  it("that is not there at all is away", async () => {
    const weather = source(metNorway, { baseUrl: "http://127.0.0.1:9" });
    expect(await weather.at(56.6, -9.4, NOW)).toEqual({ why: "away" });
  });
});
