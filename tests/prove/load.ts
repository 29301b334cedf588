import type { RecordableHistogram } from "node:perf_hooks";
import { setTimeout as delay } from "node:timers/promises";
import { seeded } from "../accuracy/errors";
import type { Shot, Tally } from "./crowd";
import { eventLoopDelay } from "./event-loop-delay";
import { Caller } from "./exchange";
import { type Borne, LoadRun, perSecond, SATURATING } from "./load-run";
import { everyShot, smallShots } from "./mixed-shots";
import type { Outcomes } from "./outcomes";
import { ServiceProcess } from "./service";
import { standInWaits } from "./stand-in";

export interface LoadProof {
  readonly figures: Readonly<Record<string, string>>;
  readonly faults: readonly string[];
}

/** Connections of those who come at random: at half of what the service can do, and at twice of it. */
const USUAL_CROWD = 1000;
const LARGE_CROWD = 4000;
/** A probe answered within this finds the service well [ms]. */
const WELL_MS = 50;
/** So many in a row, this far apart [ms]. */
const WELL_PROBES = 5;
const PROBED_EACH_MS = 50;
const RECOVERY_MS = 5000;
/** What Node takes for a request that nothing is done for, and what the service is over one of the mix, where the system does not tell [µs]; as measured by the benchmark http. */
const BARE_MICROS = 35;
const USUAL_MICROS = 150;
/** Longest that anyone may wait at twice what the service can do, answered or shed [ms]. */
const LONGEST_WAIT_MS = 2000;
/** Of what it can do, what it must still do at twice of that. */
const LEAST_GOODPUT = 0.4;

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

/** How long until several probes in a row are answered at once [ms]; infinite where that takes too long. */
async function wellAgainAfterMs(service: ServiceProcess): Promise<number> {
  const probe = new Caller(service.address, 1);
  const endedAt = performance.now();
  let firstMs = 0;
  try {
    for (let inARow = 0; performance.now() - endedAt < 2 * RECOVERY_MS; ) {
      const { status, tookMs } = await probe.ask(
        "GET",
        "/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T17:00:00Z",
      );
      const isWell = status === 200 && tookMs < WELL_MS;
      if (isWell && inARow === 0) firstMs = performance.now() - endedAt;
      inARow = isWell ? inARow + 1 : 0;
      if (inARow === WELL_PROBES) return firstMs;
      await delay(PROBED_EACH_MS);
    }
    return Number.POSITIVE_INFINITY;
  } finally {
    probe.close();
  }
}

const ms = (micros: number): string => `${(micros / 1000).toFixed(1)} ms`;
const spread = (histogram: RecordableHistogram): string =>
  histogram.count === 0
    ? "none"
    : `median ${ms(histogram.percentile(50))}, p99 ${ms(histogram.percentile(99))}, max ${ms(histogram.max)}`;
const lateness = ({ late }: Tally): string => `sent late by p99 ${ms(late.percentile(99))}, max ${ms(late.max)}`;

/** What the service itself is over a request [µs], beside what Node takes for any. */
function ownMicros({ hadMs, tally }: Borne): number {
  return hadMs === undefined ? USUAL_MICROS : Math.max(0, (1000 * hadMs) / tally.asked - BARE_MICROS);
}

function secondBySecond({ bySecond }: Outcomes): Record<string, string> {
  // a second in which nobody heard anything has no row
  const rows = Array.from(bySecond, (row, second) => [
    `second ${second + 1}`,
    row === undefined
      ? "nothing came back"
      : `${row.answered} answered within ${row.worstMs.toFixed(0)} ms, ${row.shed} shed`,
  ]);
  return Object.fromEntries(rows);
}

const saturated = (best: Borne): string =>
  `${Math.round(perSecond(best))} a second on ${SATURATING} connections, ${spread(best.outcomes.answered)}`;

/** How the built service bears half of what it can and twice of it, and what comes after. */
export async function proveByLoad(seconds: number): Promise<LoadProof> {
  const service = await ServiceProcess.start({}, { fromBuild: true });
  const host = `${service.address.host}:${service.address.port}`;
  const random = seeded(20_270_320);
  const faults: string[] = [];
  try {
    const half = await atHalf(service, smallShots(host), random, faults);
    const twice = await atTwice(service, everyShot(host), seconds, random, faults);
    if (!service.alive) faults.push("the process ended");
    return { figures: { ...half, ...twice }, faults };
  } finally {
    await service.stop();
  }
}

/** Who asks for little waits for little, whatever else is done. */
async function atHalf(
  service: ServiceProcess,
  shots: readonly Shot[],
  random: () => number,
  faults: string[],
): Promise<Record<string, string>> {
  const load = await LoadRun.on(service, shots);
  const { crowd } = load;
  const aside = new Caller(service.address, 4);
  try {
    const saturation = await load.saturation(faults);
    const rate = perSecond(saturation) / 2;
    await load.during(() => crowd.gather(USUAL_CROWD));
    const alone = await load.during(() => crowd.openLoop(rate, 5, random));
    let going = true;
    const beside = longWork(aside, () => going);
    await eventLoopDelay(service);
    const half = await load.during(() => crowd.openLoop(rate, 10, random));
    const heldUp = await eventLoopDelay(service);
    going = false;
    const longDone = await beside;
    const micros = ownMicros(alone);
    const asked = { shots, connections: USUAL_CROWD, perSecond: rate, seconds: 10, micros, random };
    const standIn = await standInWaits(asked);
    for (const { outcomes, tally } of [alone, half]) {
      faults.push(...outcomes.faults.slice(0, 5));
      if (tally.gaveUp > 0) faults.push(`${tally.gaveUp} callers gave up at half of what it can do`);
    }
    return {
      "saturation by small answers": saturated(saturation),
      "half of it": `${spread(alone.outcomes.answered)}; ${lateness(alone.tally)}`,
      "event loop then": alone.loop ?? "not told here",
      "half of it, beside long work": `${spread(half.outcomes.answered)}; ${lateness(half.tally)}`,
      "a bare server that is as long over each": `${spread(standIn)}, beside a thread that never rests`,
      "event loop meanwhile": `${heldUp}${half.loop ? `; ${half.loop}` : ""}`,
      "long work meanwhile": `${longDone} cold skylines and decades of alignments`,
      "shed at half": String(half.outcomes.shed.count),
    };
  } finally {
    aside.close();
    crowd.close();
  }
}

/** Some are answered, the others are told to come back, and afterwards all is as before. */
async function atTwice(
  service: ServiceProcess,
  shots: readonly Shot[],
  seconds: number,
  random: () => number,
  faults: string[],
): Promise<Record<string, string>> {
  const load = await LoadRun.on(service, shots);
  const { crowd } = load;
  try {
    const saturation = await load.saturation(faults);
    const rate = 2 * perSecond(saturation);
    await load.during(() => crowd.gather(LARGE_CROWD));
    const { outcomes, tally, loop } = await load.during(() => crowd.openLoop(rate, seconds, random));
    const { answered, shed } = outcomes;
    const wellAfterMs = await wellAgainAfterMs(service);
    const goodput = answered.count / seconds / perSecond(saturation);
    const longestMs = Math.max(answered.max, shed.count > 0 ? shed.max : 0) / 1000;
    faults.push(...outcomes.faults.slice(0, 5));
    if (tally.gaveUp > 0) faults.push(`${tally.gaveUp} callers gave up at twice what it can do`);
    if (longestMs > LONGEST_WAIT_MS) faults.push(`a caller waited for ${longestMs.toFixed(0)} ms`);
    if (goodput < LEAST_GOODPUT) faults.push(`${(100 * goodput).toFixed(0)} % of saturation answered at twice of it`);
    if (wellAfterMs > RECOVERY_MS) faults.push(`not well within ${RECOVERY_MS} ms after the load`);
    return {
      "saturation by every example": saturated(saturation),
      "asked at twice of it": `${Math.round(tally.asked / seconds)} a second on ${crowd.connections} connections; ${lateness(tally)}`,
      "answered of these": `${Math.round(answered.count / seconds)} a second (${(100 * goodput).toFixed(0)} % of saturation), ${spread(answered)}`,
      "shed with 429 or 503 and Retry-After": `${shed.count} of ${tally.asked}, ${spread(shed)}`,
      "callers who gave up": String(tally.gaveUp),
      "event loop at twice of it": loop ?? "not told here",
      "well again after": `${wellAfterMs.toFixed(0)} ms`,
      ...secondBySecond(outcomes),
    };
  } finally {
    crowd.close();
  }
}
