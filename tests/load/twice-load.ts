import { setTimeout as delay } from "node:timers/promises";
import type { Shot } from "./crowd";
import { Caller } from "./exchange";
import { LoadRun, perSecond } from "./load-run";
import { coreShare, lateness, saturated, spread } from "./load-words";
import type { Outcomes } from "./outcomes";
import type { ServiceProcess } from "./service";

/** Connections of those who come at random, at twice of what the service can do. */
const LARGE_CROWD = 4000;
/** A probe answered within this finds the service well [ms]. */
const WELL_MS = 50;
/** So many in a row, this far apart [ms]. */
const WELL_PROBES = 5;
const PROBED_EACH_MS = 50;
const RECOVERY_MS = 5000;
/** Longest that anyone may wait, answered or shed [ms]. */
const LONGEST_WAIT_MS = 2000;
/** Of what it can do, what it must still do. */
const LEAST_GOODPUT = 0.4;

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

/** Some are answered, the others are told to come back, and afterwards all is as before. */
export async function bearsTwice(
  service: ServiceProcess,
  shots: readonly Shot[],
  seconds: number,
  random: () => number,
  faults: string[],
): Promise<Record<string, string>> {
  const load = await LoadRun.on(service, shots, faults);
  const { crowd } = load;
  try {
    const saturation = await load.saturation();
    const rate = 2 * perSecond(saturation);
    await load.during(() => crowd.gather(LARGE_CROWD));
    const { outcomes, tally, core } = await load.during(() => crowd.openLoop(rate, seconds, random));
    const { answered, shed } = outcomes;
    const wellAfterMs = await wellAgainAfterMs(service);
    const goodput = answered.count / seconds / perSecond(saturation);
    const longestMs = Math.max(answered.max, shed.count > 0 ? shed.max : 0) / 1000;
    if (tally.gaveUp > 0) faults.push(`${tally.gaveUp} callers gave up at twice what it can do`);
    if (longestMs > LONGEST_WAIT_MS) faults.push(`a caller waited for ${longestMs.toFixed(0)} ms`);
    if (goodput < LEAST_GOODPUT) faults.push(`${(100 * goodput).toFixed(0)} % of saturation answered at twice of it`);
    if (wellAfterMs > RECOVERY_MS) faults.push(`not well within ${RECOVERY_MS} ms after the load`);
    return {
      "saturation by every example": saturated([saturation]),
      "asked at twice of it": `${Math.round(tally.asked / seconds)} a second on ${crowd.connections} connections; ${lateness(tally)}`,
      "answered of these": `${Math.round(answered.count / seconds)} a second (${(100 * goodput).toFixed(0)} % of saturation), ${spread(answered)}`,
      "shed with 429 or 503 and Retry-After": `${shed.count} of ${tally.asked}, ${spread(shed)}`,
      "callers who gave up": String(tally.gaveUp),
      "event loop at twice of it": coreShare(core, tally.seconds),
      "well again after": `${wellAfterMs.toFixed(0)} ms`,
      ...secondBySecond(outcomes),
    };
  } finally {
    crowd.close();
  }
}
