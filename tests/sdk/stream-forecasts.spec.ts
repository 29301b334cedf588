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

/** A stream that begins at once and takes its time for each line, and that heeds the signal as the platform's own fetch does. */
function lines(count: number, paceMs: number): typeof globalThis.fetch {
  return (async ({ signal }: Request) => {
    let sent = 0;
    const body = new ReadableStream<Uint8Array>({
      start(stream) {
        signal.addEventListener("abort", () => stream.error(signal.reason));
      },
      async pull(stream) {
        await new Promise((resolve) => setTimeout(resolve, paceMs));
        if (signal.aborted) return;
        const line = sent++ < count ? { index: sent - 1, problem: {} } : { done: true, served: 0, failed: count };
        stream.enqueue(new TextEncoder().encode(`${JSON.stringify(line)}\n`));
        if ("done" in line) stream.close();
      },
    });
    return new Response(body, { headers: { "Content-Type": "application/x-ndjson" } });
  }) as typeof globalThis.fetch;
}

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

  it("may take longer than a try, as long as lines come, however slowly they are read", async () => {
    const client = createFieldstopClient({
      baseUrl: "http://ardvane.example",
      timeoutMs: 50,
      retry: false,
      fetch: lines(8, 30),
    });
    const got: ForecastsLine[] = [];
    for await (const line of streamForecasts({ client, body: { places: places(8) }, idleMs: 200 })) {
      got.push(line);
      if (got.length === 2) await new Promise((resolve) => setTimeout(resolve, 300));
    }
    expect(got).toHaveLength(9);
  });

  it("ends where no line comes in time, or none at all", async () => {
    const silent = (async (request: Request) =>
      new Promise((_, reject) => {
        request.signal.addEventListener("abort", () => reject(request.signal.reason));
      })) as typeof globalThis.fetch;
    for (const fetch of [lines(2, 5_000), silent]) {
      const client = createFieldstopClient({ baseUrl: "http://ardvane.example", retry: false, fetch });
      const read = async () => {
        for await (const _ of streamForecasts({ client, body: { places: places(2) }, idleMs: 100 }));
      };
      const startedMs = performance.now();
      await expect(read()).rejects.toThrow(expect.objectContaining({ name: "TimeoutError" }));
      expect(performance.now() - startedMs).toBeLessThan(2_000);
    }
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
