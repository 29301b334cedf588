import { spawnSync } from "node:child_process";
import { once } from "node:events";
import { setTimeout as delay } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { operations } from "../tests/load/contract";
import { ServiceProcess } from "../tests/load/service";
import { median } from "../tests/median";

/**
 * How long the event loop of the built service is held up at one go by each operation, asked by itself: by every example of the contract that has a body,
 * and by what costs most of the others, a day or a place that was not asked for before each time. Beside it what the event loop is held up by with nothing
 * to do, in the same run. The first time is told apart: the engine has not compiled the code yet, and some of it is not loaded.
 */
const TIMES = 14;
/** Of these what is told as usual, when the engine knows the code. */
const WARM_FROM = 4;
const SHOWN = 16;

const STRAND = "latitude=56.6&longitude=-9.4&timeZone=Europe/London";
const SHORE = "latitude=51.5&longitude=-3&timeZone=Europe/London";
const day = (i: number): string => new Date(Date.UTC(2027, 2, 1 + i)).toISOString().slice(0, 10);
const HEAVY: Readonly<Record<string, (i: number) => string>> = {
  "sun and moon": (i) => `/v1/moon?${STRAND}&instant=${day(i)}T18:00:00Z`,
  "light windows": (i) => `/v1/light-windows?${STRAND}&date=${day(i)}&horizon=terrain`,
  "light windows, picture": (i) => `/v1/light-windows.svg?${STRAND}&date=${day(i)}&horizon=terrain&width=1600`,
  "light windows, 14 days' calendar": (i) => `/v1/light-windows.ics?${STRAND}&date=${day(i)}&horizon=terrain&days=14`,
  "cold skyline": (i) => `/v1/horizon?latitude=56.6&longitude=${(-9.4 + i / 1000).toFixed(4)}`,
  "cold skyline, fine": (i) => `/v1/horizon?latitude=56.61&longitude=${(-9.4 + i / 1000).toFixed(4)}&stepDeg=0.05`,
  "skyline, picture": (i) => `/v1/horizon.svg?${STRAND}&date=${day(i)}&width=1600`,
  "tide stations": (i) => `/v1/tide-stations?latitude=${50 + i / 10}&longitude=-5&radiusKm=500&limit=50`,
  "tide of a day": (i) => `/v1/tides?${SHORE}&date=${day(i)}`,
  "tide of a month, with a level": (i) =>
    `/v1/tides?${SHORE}&from=${day(i)}T00:00:00Z&to=${day(i + 30)}T00:00:00Z&levelM=2`,
  forecast: (i) => `/v1/forecast?${STRAND}&date=${day(i)}&horizon=terrain`,
  "forecast with a tide": (i) => `/v1/forecast?${SHORE}&date=${day(i)}&tideStation=nearest`,
  "forecast, picture": (i) => `/v1/forecast.svg?${STRAND}&date=${day(i)}&width=1600`,
  "forecast, 14 days' calendar": (i) => `/v1/forecast.ics?${STRAND}&date=${day(i)}&days=14&horizon=terrain`,
};

spawnSync("npm", ["run", "--silent", "build", "-w", "@fieldstop/api"], { stdio: "inherit" });
const preload = fileURLToPath(new URL("./turns/longest-turn.mjs", import.meta.url));
const service = await ServiceProcess.start({}, { flags: ["--import", preload], channel: true });

/** The longest turn of the service's event loop since this was last asked [ms]. */
async function longestTurnMs(): Promise<number> {
  service.child.send("longest turn");
  const [longestMs] = (await once(service.child, "message")) as [number];
  return longestMs;
}

interface Held {
  readonly name: string;
  readonly firstMs: number;
  readonly usualMs: number;
  readonly worstMs: number;
}

async function heldUpBy(name: string, ask: (i: number) => Promise<Response | undefined>): Promise<Held> {
  const turnsMs: number[] = [];
  for (let i = 0; i < TIMES; i++) {
    await longestTurnMs();
    const response = await ask(i);
    await response?.arrayBuffer();
    if (response?.ok === false) throw new Error(`${name}: ${response.status}`);
    turnsMs.push(await longestTurnMs());
  }
  const [firstMs = 0] = turnsMs;
  const warm = turnsMs.slice(WARM_FROM);
  return { name, firstMs, usualMs: median(warm), worstMs: Math.max(...warm) };
}

try {
  const nothing = await heldUpBy("nothing", async () => {
    await delay(20);
    return undefined;
  });
  const held: Held[] = [];
  for (const [name, path] of Object.entries(HEAVY)) {
    held.push(await heldUpBy(name, (i) => fetch(service.baseUrl + path(i))));
  }
  for (const { method, path, body } of operations) {
    if (method !== "POST" || body?.type !== "application/json") continue;
    for (const [i, example] of body.examples.entries()) {
      const asked = { method, headers: { "Content-Type": body.type }, body: JSON.stringify(example) };
      held.push(await heldUpBy(`${path} ${i + 1}`, () => fetch(service.baseUrl + path, asked)));
    }
  }
  held.sort((a, b) => b.worstMs - a.worstMs);
  const row = ({ firstMs, usualMs, worstMs }: Held) => ({
    "first [ms]": firstMs.toFixed(1),
    "usual [ms]": usualMs.toFixed(1),
    "worst [ms]": worstMs.toFixed(1),
    "usual, of nothing's": (usualMs / nothing.usualMs).toFixed(0),
  });
  console.log(`${held.length} kinds of request, the ${SHOWN} that hold it up for longest:`);
  console.table(Object.fromEntries([...held.slice(0, SHOWN), nothing].map((one) => [one.name, row(one)])));
} finally {
  await service.stop();
}
