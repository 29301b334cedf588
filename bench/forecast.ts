import { join } from "node:path";
import { setTimeout as delay } from "node:timers/promises";
import { createApp } from "@fieldstop/api/app";
import { createTerrain } from "@fieldstop/terrain";
import tzLookup from "@photostructure/tz-lookup";

/**
 * A thousand forecasts in one process, their skylines warm, read as fast as they come: how long they take, and how long the event loop is held up at
 * worst meanwhile. Bare sun positions in the same run tell how fast the machine is.
 */
const PLACES = 1000;
const ROUNDS = 3;

const app = createApp({
  terrain: await createTerrain({ sources: [join(import.meta.dirname, "../demo/elevation")] }),
  timeZoneAt: (latitude, longitude) => tzLookup(latitude, longitude),
  nowMs: () => Date.UTC(2027, 2, 20, 17),
  reportFault: (error) => console.error(error),
});
const bag = [
  { kind: "nd", stops: 6 },
  { kind: "graduated", stops: 3, transition: "soft" },
];
// a few spots that stay in the cache of skylines, each on many days
const places = Array.from({ length: PLACES }, (_, i) => ({
  id: `spot-${i}`,
  place: { latitude: 56.58 + 0.004 * (i % 10), longitude: -9.42 + 0.003 * (i % 10) },
  date: new Date(Date.UTC(2027, 2, 1 + Math.floor(i / 10))).toISOString().slice(0, 10),
  session: i % 2 === 0 ? "evening" : "morning",
  camera: { sensor: "full-frame", focalLengthMm: 24, azimuthDeg: 290 },
  filters: bag,
  sky: { cloudCover: { low: 10, middle: i % 60, high: 40 }, temperatureC: 6, relativeHumidity: 90 },
}));

async function readAll(body: string): Promise<{ seconds: number; bytes: number; last: string }> {
  const start = performance.now();
  const response = await app.request("/v1/forecasts", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body,
  });
  const reader = (response.body as ReadableStream<Uint8Array>).getReader();
  let bytes = 0;
  let last = "";
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    bytes += next.value.length;
    last = next.value.length < 200 ? new TextDecoder().decode(next.value) : last;
  }
  return { seconds: (performance.now() - start) / 1000, bytes, last };
}

/**
 * How long the event loop is held up each time while something runs [ms]: by the clock, which other programs on the machine lengthen, and by the processor
 * time that this one spent meanwhile, which they do not.
 */
async function heldUp<T>(run: () => Promise<T>): Promise<{ result: T; clock: number[]; processor: number[] }> {
  let runs = true;
  const done = run().finally(() => {
    runs = false;
  });
  const clock: number[] = [];
  const processor: number[] = [];
  for (let before = performance.now(), spent = process.cpuUsage(); runs; ) {
    await delay(1);
    const now = performance.now();
    const { user, system } = process.cpuUsage(spent);
    spent = process.cpuUsage();
    clock.push(now - before - 1);
    processor.push(Math.min(now - before, (user + system) / 1000));
    before = now;
  }
  return { result: await done, clock: clock.sort((a, b) => a - b), processor: processor.sort((a, b) => a - b) };
}

const part = (sorted: readonly number[], share: number) =>
  (sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0).toFixed(1);

const body = JSON.stringify({ places });
await readAll(JSON.stringify({ places: places.slice(0, 100) }));
const rows: Record<string, string>[] = [];
for (let round = 0; round < ROUNDS; round++) {
  const before = process.cpuUsage();
  const { result, clock, processor } = await heldUp(() => readAll(body));
  const { user, system } = process.cpuUsage(before);
  rows.push({
    "seconds for 1,000": result.seconds.toFixed(2),
    "of the processor": ((user + system) / 1e6).toFixed(2),
    MB: (result.bytes / 1e6).toFixed(1),
    "held up, median [ms]": part(clock, 0.5),
    "99 %": part(clock, 0.99),
    worst: part(clock, 1),
    "by processor time, 99 %": part(processor, 0.99),
    "worst ": part(processor, 1),
    "last line": result.last.trim(),
  });
}
console.table(rows);
