import { createFieldstop, createFieldstopClient, type ForecastsLine, isProblem, streamForecasts } from "@fieldstop/sdk";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "./server";

let asked = 0;
let server: RunningServer;
beforeAll(async () => {
  const app = testApp({
    timeZoneAt: () => {
      asked++;
      return "Etc/UTC";
    },
  });
  server = await startServer(app);
});
afterAll(() => server.close());

const places = (count: number) =>
  Array.from({ length: count }, (_, i) => ({
    id: `spot-${i}`,
    place: { latitude: 50 + i / 1000, longitude: -9.4, name: "Ströndin 🌊" },
  }));

describe("streamForecasts", () => {
  it("gives the lines one by one, forecasts and problems, and the count at the end", async () => {
    const { forecast } = createFieldstop({ baseUrl: server.baseUrl });
    const lines: ForecastsLine[] = [];
    const bad = { place: { latitude: 91, longitude: 0 } };
    for await (const line of forecast.streamForecasts({ places: [...places(3), bad] })) lines.push(line);
    expect(lines).toHaveLength(5);
    expect(lines.at(-1)).toEqual({ done: true, served: 3, failed: 1 });
    const told = lines.flatMap((line) => ("forecast" in line ? [line.forecast] : []));
    expect(told.map(({ place }) => place.name)).toEqual(Array(3).fill("Ströndin 🌊"));
    const refused = lines.flatMap((line) => ("problem" in line ? [line] : []));
    expect(refused[0]).toMatchObject({ index: 3, problem: { status: 400 } });
  });

  it("throws the service's problem for a body that is refused", async () => {
    const { forecast } = createFieldstop({ baseUrl: server.baseUrl });
    const error: unknown = await forecast
      .streamForecasts({ places: [] })
      .next()
      .catch((caught: unknown) => caught);
    expect(isProblem(error)).toBe(true);
  });

  it("ends the service's work when the reader breaks off", async () => {
    const client = createFieldstopClient({ baseUrl: server.baseUrl });
    asked = 0;
    for await (const line of streamForecasts({ client, body: { places: places(400) } })) {
      expect(line).toHaveProperty("index");
      break;
    }
    await new Promise((resolve) => setTimeout(resolve, 300));
    const atBreak = asked;
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(asked).toBe(atBreak);
    expect(asked).toBeLessThan(400);
  });

  it("ends with the caller's signal", async () => {
    const controller = new AbortController();
    const client = createFieldstopClient({ baseUrl: server.baseUrl });
    asked = 0;
    const read = async () => {
      const stream = streamForecasts({ client, body: { places: places(400) }, signal: controller.signal });
      for await (const _ of stream) controller.abort(new Error("enough"));
    };
    await expect(read()).rejects.toThrow("enough");
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(asked).toBeLessThan(400);
  });

  it("says so where a stream was cut short", async () => {
    const cut = async () =>
      new Response('{"index":0,"problem":{}}\n{"ind', { headers: { "Content-Type": "application/x-ndjson" } });
    const whole = async () =>
      new Response('{"index":0,"problem":{}}\n', { headers: { "Content-Type": "application/x-ndjson" } });
    for (const fetch of [cut, whole] as (typeof globalThis.fetch)[]) {
      const client = createFieldstopClient({ baseUrl: server.baseUrl, fetch, retry: false });
      const read = async () => {
        for await (const _ of streamForecasts({ client, body: { places: places(1) } }));
      };
      await expect(read()).rejects.toThrow();
    }
  });
});
