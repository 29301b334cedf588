import { createHistogram, type RecordableHistogram } from "node:perf_hooks";
import { keepApart } from "./cores";
import type { Shot } from "./crowd";
import { eventLoopDelay, type LoopDelay } from "./event-loop-delay";
import { Caller } from "./exchange";
import { type Borne, LoadRun, perSecond, SATURATING } from "./load-run";
import { coreShare, inMs, lateness, middle, saturated, spread } from "./load-words";
import type { ServiceProcess } from "./service";
import { StandIn } from "./stand-in";

/**
 * A machine may change its own speed by half within seconds: what the service can do is measured anew in each round, and everything at half of that
 * right after it. Rounds count where it can do as much after them; they are short, so that it does not do other things meanwhile.
 */
const ROUNDS = 12;
/** Rounds tried for those that count. */
const MOST_ROUNDS = 60;
/** By how much it may change for "half" to mean half. */
const SAME_PACE = 0.15;
/** Rounds that are not counted: the engine compiles code for what it has met, and does so again when it meets more. */
const WARM_UP_ROUNDS = 4;
/** Connections of those who come at random. */
const USUAL_CROWD = 1000;
const SECONDS = { warmUp: 4, saturation: 0.6, alone: 1, beside: 2, standIn: 1 };
/** What Node takes for a request that nothing is done for, and what the service is over one of the mix, where the system does not tell [µs]; as measured by the benchmark http. */
const BARE_MICROS = 35;
const USUAL_MICROS = 150;

/** Cold skylines and decades of alignments, one after another, until told to stop; with how many were done, `before` in earlier rounds. */
async function longWork(caller: Caller, before: number, going: () => boolean): Promise<number> {
  let done = before;
  while (going()) {
    // a place that was not asked for before, else the skyline would be kept
    const longitude = (-9.45 + done / 10_000).toFixed(5);
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

/** What was borne in several rounds. */
class Sum {
  readonly answered: RecordableHistogram = createHistogram();
  readonly late: RecordableHistogram = createHistogram();
  readonly core = { hadMs: 0, waitedMs: 0 };
  readonly p99s: number[] = [];
  seconds = 0;
  asked = 0;
  shed = 0;

  constructor(readonly faults: string[]) {}

  add({ outcomes, tally, core }: Borne): void {
    if (outcomes.answered.count > 0) this.answered.add(outcomes.answered);
    this.p99s.push(outcomes.answered.percentile(99));
    if (tally.late.count > 0) this.late.add(tally.late);
    this.core.hadMs += core?.hadMs ?? Number.NaN;
    this.core.waitedMs += core?.waitedMs ?? Number.NaN;
    this.seconds += tally.seconds;
    this.asked += tally.asked;
    this.shed += outcomes.shed.count;
    if (tally.gaveUp > 0) this.faults.push(`${tally.gaveUp} callers gave up at half of what it can do`);
  }

  /** What the service itself was over a request [µs], beside what Node takes for any. */
  get ownMicros(): number {
    const micros = (1000 * this.core.hadMs) / this.asked - BARE_MICROS;
    return Number.isNaN(micros) ? USUAL_MICROS : Math.max(0, micros);
  }

  get words(): string {
    return `${spread(this.answered)}; ${lateness(this)}`;
  }

  get loopWords(): string {
    return coreShare(Number.isNaN(this.core.hadMs) ? undefined : this.core, this.seconds);
  }
}

/** Whether the machine did not change its pace between two times that it was found. */
const isSamePace = (before: Borne, after: Borne): boolean =>
  Math.abs(Math.log(perSecond(after) / perSecond(before))) < -Math.log(1 - SAME_PACE);

/**
 * Who asks for little waits for little, whatever else is done.
 * @throws Error where the machine keeps its pace in too few rounds
 */
export async function bearsHalf(
  service: ServiceProcess,
  shots: readonly Shot[],
  random: () => number,
  faults: string[],
): Promise<Record<string, string>> {
  const load = await LoadRun.on(service, shots, faults);
  const { crowd } = load;
  const aside = new Caller(service.address, 4);
  const standIn = await StandIn.start(shots, USUAL_CROWD);
  const letGo = keepApart(process.pid, [service.child.pid as number, standIn.pid]);
  const alone = new Sum(faults);
  const beside = new Sum(faults);
  const saturations: Borne[] = [];
  const delays: LoopDelay[] = [];
  const leftOutP99s: number[] = [];
  let longDone = 0;
  let longCounted = 0;
  try {
    await load.during(() => crowd.closedLoop(SATURATING, SECONDS.warmUp));
    await load.during(() => crowd.gather(USUAL_CROWD));
    const saturate = () => load.during(() => crowd.closedLoop(SATURATING, SECONDS.saturation));
    for (let round = 1 - WARM_UP_ROUNDS; saturations.length < ROUNDS; round++) {
      if (round > MOST_ROUNDS)
        throw new Error(`the machine kept its pace in ${saturations.length} rounds of ${MOST_ROUNDS}`);
      const saturation = await saturate();
      const rate = perSecond(saturation) / 2;
      const byItself = await load.during(() => crowd.openLoop(rate, SECONDS.alone, random));
      let going = true;
      const long = longWork(aside, longDone, () => going);
      await eventLoopDelay(service);
      const besideLong = await load.during(() => crowd.openLoop(rate, SECONDS.beside, random));
      const delay = await eventLoopDelay(service);
      going = false;
      const longBefore = longDone;
      longDone = await long;
      const after = await saturate();
      if (round < 1) continue;
      if (!isSamePace(saturation, after)) {
        leftOutP99s.push(besideLong.outcomes.answered.percentile(99));
        continue;
      }
      saturations.push(saturation);
      longCounted += longDone - longBefore;
      alone.add(byItself);
      beside.add(besideLong);
      delays.push(delay);
      await standIn.bear(rate, SECONDS.standIn, alone.ownMicros, random);
    }
    const worst = (of: (delay: LoopDelay) => number): string => Math.max(...delays.map(of)).toFixed(1);
    return {
      cores: letGo ? "callers on one, the event loop on another, its threads on any" : "as the system gives them out",
      "saturation by small answers": saturated(saturations),
      "half of it": alone.words,
      "event loop then": alone.loopWords,
      "half of it, beside long work": beside.words,
      "a bare server that is as long over each": `${spread(standIn.waits)}, beside a thread that never rests`,
      "p99 of rounds, in the middle": `alone ${middle(alone.p99s)}; beside long work ${middle(beside.p99s)}; the bare server ${middle(standIn.p99s)}`,
      "p99 round by round [ms]": `alone ${inMs(alone.p99s)}; beside long work ${inMs(beside.p99s)}; the bare server ${inMs(standIn.p99s)}`,
      "rounds left out": `${leftOutP99s.length} in which the machine changed its pace by over ${100 * SAME_PACE} %; p99 beside long work then ${inMs(leftOutP99s) || "none"}`,
      "event loop meanwhile": `held up by p99 ${worst(({ p99Ms }) => p99Ms)} ms, max ${worst(({ maxMs }) => maxMs)} ms; ${beside.loopWords}`,
      "long work meanwhile": `${longCounted} cold skylines and decades of alignments in ${beside.seconds.toFixed(0)} s`,
      "shed at half": String(alone.shed + beside.shed),
    };
  } finally {
    letGo?.();
    aside.close();
    crowd.close();
    standIn.stop();
  }
}
