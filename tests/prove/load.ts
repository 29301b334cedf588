import { setTimeout as delay } from "node:timers/promises";
import { Caller } from "./exchange";
import { ServiceProcess } from "./service";

export interface LoadProof {
  readonly figures: Readonly<Record<string, string>>;
  readonly faults: readonly string[];
}

/** Connections of the crowd: more than the service takes on at once. */
const CONNECTIONS = 1500;
/** Asked in step with the load, to learn when the service is well again [ms]. */
const WELL_MS = 100;
const RECOVERY_MS = 5000;

interface Asked {
  readonly path: string;
  readonly body?: string;
}

/** A mix of what is answered from a cache, what is calculated each time, and what takes a body. */
function question(turn: number): Asked {
  const n = turn % 500;
  switch (turn % 4) {
    case 0:
      return { path: "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20" };
    case 1:
      return {
        path: `/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T17:00:00.${String(n).padStart(3, "0")}Z`,
      };
    case 2:
      return { path: `/v1/moon?latitude=${56 + n / 1000}&longitude=-9.4&instant=2027-03-20T17:00:00Z` };
    default:
      return { path: "/v1/exposures/solve", body: `{"ev100":${(n % 150) / 10},"aperture":8,"iso":100}` };
  }
}

interface Tally {
  readonly tookMs: number[];
  readonly statuses: Record<string, number>;
  readonly faults: string[];
  seconds: number;
  unsent: number;
}

/** Answers by question, so that each can be held to the one before. */
const answers = new Map<string, string>();

async function ask(caller: Caller, { path, body }: Asked, tally: Tally): Promise<void> {
  try {
    const headers: Record<string, string> = body === undefined ? {} : { "content-type": "application/json" };
    const answer = await caller.ask(body === undefined ? "GET" : "POST", path, headers, body);
    tally.statuses[answer.status] = (tally.statuses[answer.status] ?? 0) + 1;
    if (answer.status === 429 || answer.status === 503) {
      if (!("retry-after" in answer.headers)) tally.faults.push(`${answer.status} without Retry-After`);
      return;
    }
    tally.tookMs.push(answer.tookMs);
    const key = `${path} ${body}`;
    const before = answers.get(key);
    if (answer.status !== 200) tally.faults.push(`${key} -> ${answer.status}: ${answer.text.slice(0, 200)}`);
    else if (before === undefined) answers.set(key, answer.text);
    else if (before !== answer.text) tally.faults.push(`another answer to ${key}`);
  } catch (error) {
    tally.faults.push(`${path}: ${error}`);
  }
}

const empty = (): Tally => ({ tookMs: [], statuses: {}, faults: [], seconds: 0, unsent: 0 });

/** As fast as so many callers get their answers. */
async function closedLoop(caller: Caller, callers: number, ms: number): Promise<Tally> {
  const tally = empty();
  const startedAt = performance.now();
  let turn = 0;
  await Promise.all(
    Array.from({ length: callers }, async () => {
      while (performance.now() - startedAt < ms) await ask(caller, question(turn++), tally);
    }),
  );
  tally.seconds = (performance.now() - startedAt) / 1000;
  return tally;
}

/** At a steady rate, whether answers come or not; beyond the connections there are, callers give up before they ask. */
async function openLoop(caller: Caller, perSecond: number, ms: number): Promise<Tally> {
  const tally = empty();
  const startedAt = performance.now();
  const under = new Set<Promise<void>>();
  for (let turn = 0; performance.now() - startedAt < ms; ) {
    const due = Math.floor(((performance.now() - startedAt) / 1000) * perSecond);
    for (; turn < due; turn++) {
      if (under.size >= CONNECTIONS) {
        tally.unsent++;
        continue;
      }
      const asked: Promise<void> = ask(caller, question(turn), tally).finally(() => under.delete(asked));
      under.add(asked);
    }
    await delay(1);
  }
  await Promise.all(under);
  tally.seconds = (performance.now() - startedAt) / 1000;
  return tally;
}

const total = (tally: Tally): number => Object.values(tally.statuses).reduce((sum, count) => sum + count, 0);

function percentile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
}

/** Cold skylines and decades of alignments, one after another, until told to stop. */
async function longWork(caller: Caller, going: () => boolean): Promise<number> {
  let done = 0;
  while (going()) {
    const longitude = (-9.45 + (done % 1000) / 10_000).toFixed(5);
    const search = {
      place: { latitude: 56.6, longitude: -9.4 },
      body: "moon",
      target: { kind: "direction", azimuthDeg: 280 + (done % 100) / 10, altitudeDeg: 3 },
      from: "2027-01-01",
      to: "2036-12-31",
    };
    await Promise.all([
      caller.ask("GET", `/v1/horizon?latitude=56.62&longitude=${longitude}`),
      caller.ask("POST", "/v1/alignments", { "content-type": "application/json" }, JSON.stringify(search)),
    ]);
    done++;
  }
  return done;
}

/** How the built service bears half of what it can, twice of it, and what comes after. */
export async function proveByLoad(seconds: number): Promise<LoadProof> {
  const service = await ServiceProcess.start({}, { fromBuild: true });
  const caller = new Caller(service.address, CONNECTIONS);
  const aside = new Caller(service.address, 4);
  try {
    await closedLoop(caller, 32, 2000);
    const saturation = await closedLoop(caller, 32, 4000);
    const rate = saturation.tookMs.length / saturation.seconds;

    const alone = await openLoop(caller, rate / 2, 4000);
    let going = true;
    const beside = longWork(aside, () => going);
    const half = await openLoop(caller, rate / 2, 8000);
    going = false;
    const longDone = await beside;

    const twice = await openLoop(caller, 2 * rate, seconds * 1000);
    const endedAt = performance.now();
    let wellAfterMs = Number.POSITIVE_INFINITY;
    while (performance.now() - endedAt < 2 * RECOVERY_MS) {
      const { status, tookMs } = await aside.ask("GET", question(0).path);
      if (status === 200 && tookMs < WELL_MS) {
        wellAfterMs = performance.now() - endedAt;
        break;
      }
      await delay(50);
    }

    const faults = [saturation, alone, half, twice].flatMap((tally) => tally.faults.slice(0, 5));
    const refused = [429, 503].reduce((sum, status) => sum + (twice.statuses[status] ?? 0), 0);
    if (wellAfterMs > RECOVERY_MS) faults.push(`not well within ${RECOVERY_MS} ms after the load`);
    if (!service.alive) faults.push("the process ended");
    const ms = (value: number): string => `${value.toFixed(1)} ms`;
    const spread = ({ tookMs }: Tally) => `median ${ms(percentile(tookMs, 0.5))}, p99 ${ms(percentile(tookMs, 0.99))}`;
    return {
      figures: {
        "saturation, 32 connections": `${Math.round(rate)} a second, ${spread(saturation)}`,
        "half of it": spread(alone),
        "half of it, beside long work": `${spread(half)}; ${longDone} cold skylines and decades of alignments`,
        "shed at half": String((half.statuses[503] ?? 0) + (half.statuses[429] ?? 0)),
        "twice of it": `${spread(twice)} of ${Math.round(twice.tookMs.length / twice.seconds)} answered a second`,
        "shed with 429 or 503 and Retry-After": `${refused} of ${total(twice)} that came through, ${twice.unsent} callers gave up before`,
        "well again after": ms(wellAfterMs),
      },
      faults,
    };
  } finally {
    caller.close();
    aside.close();
    await service.stop();
  }
}
