import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { messageIdOf } from "@fieldstop/nightly/ledger/key";
import type { Ledger } from "@fieldstop/nightly/ledger/ledger";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { RedisLedger } from "@fieldstop/nightly/ledger/redis-ledger";
import { seeded } from "../accuracy/errors";
import { writePlaces } from "../nightly/support/places-file";
import { type Manner, Receiver, SECRET } from "../nightly/support/receiver";
import { RunnerProcess } from "../nightly/support/runner-process";
import { StandInService } from "../nightly/support/stand-in-service";
import { Program } from "./programs";

export interface NightlyProofOptions {
  readonly places: number;
  /** Runners that share a Redis; undefined: one runner with a ledger of its own. */
  readonly workers?: number;
  /** How often a runner is killed (-9). */
  readonly kills: number;
  /** How often Redis is killed (-9) and started again. */
  readonly redisKills?: number;
  readonly seed: number;
  /** The file of the command. */
  readonly command: string;
  /** Longest time for all of it [ms]. */
  readonly withinMs: number;
}

export interface NightlyProof {
  readonly places: number;
  readonly received: number;
  readonly kills: number;
  readonly redisKills: number;
  /** Requests that came in at the receiver. */
  readonly requests: number;
  /** Messages that came again under an id that the receiver had. */
  readonly repeated: number;
  readonly manners: Readonly<Record<Manner, number>>;
  readonly forecastRequests: number;
  readonly streamsCutShort: number;
  readonly seconds: number;
  readonly faults: readonly string[];
}

/** Of a hundred requests, how many the receiver treats in each manner. */
const MANNERS: readonly (readonly [Manner, number])[] = [
  ["accept", 60],
  ["fail", 10],
  ["ask-to-wait", 4],
  ["hang", 3],
  ["hang-after-taking", 3],
  ["drop", 6],
  ["drop-after-taking", 8],
  ["answer-twice", 6],
];

/**
 * Posts one night of many places to a receiver that fails, hangs, drops connections and answers twice, from runners that
 * are killed at random, and holds that every place and night was received once by its id, and none was lost.
 */
export async function proveNightly(options: NightlyProofOptions): Promise<NightlyProof> {
  const { places, workers = 1, kills, redisKills = 0, seed, command, withinMs } = options;
  const random = seeded(seed);
  const folder = await mkdtemp(join(tmpdir(), "nightly-proof-"));
  let streamsCutShort = 0;
  const service = await StandInService.start(() => {
    if (random() > 0.5) return undefined;
    streamsCutShort++;
    return Math.floor(random() * 0.3 * places);
  }, 5);
  const receiver = await Receiver.start(() => draw(random));
  const redis = options.workers === undefined ? undefined : await Program.redis({ durable: true });
  const redisUrl = redis && `redis://127.0.0.1:${redis.address.port}`;
  const file = await writePlaces(join(folder, "places.json"), places, receiver.url);
  const ledgerFolder = join(folder, "ledger");
  const env = {
    ARDVANE_SECRET: SECRET,
    FIELDSTOP_API_URL: service.baseUrl,
    ...(redisUrl === undefined ? {} : { FIELDSTOP_REDIS_URL: redisUrl }),
  };
  const start = (...args: string[]): RunnerProcess =>
    new RunnerProcess(command, ["--places", file, "--ledger", ledgerFolder, ...args], env);
  const startedMs = Date.now();
  const untilMs = startedMs + withinMs;
  const faults: string[] = [];
  const runners = Array.from({ length: workers }, () => start());
  let killed = 0;
  let redisKilled = 0;
  let ledger: Ledger | undefined;
  try {
    // each kill comes after so many more requests, so that all of them fall into the work
    const between = Math.max(1, Math.floor((0.9 * places) / (kills + redisKills + 1)));
    for (
      let next = between;
      killed < kills || redisKilled < redisKills;
      next += Math.ceil(between * (0.5 + random()))
    ) {
      while (receiver.requests < next && receiver.taken.size < places && Date.now() < untilMs) await sleep(5);
      if (receiver.taken.size >= places || Date.now() >= untilMs) break;
      // either while both are left
      if (
        redis !== undefined &&
        redisKilled < redisKills &&
        (killed >= kills || random() < redisKills / (kills + redisKills))
      ) {
        redisKilled++;
        await redis.kill();
        await sleep(200 + 800 * random());
        await redis.restart();
      } else {
        killed++;
        const which = Math.floor(random() * runners.length);
        const runner = runners[which] as RunnerProcess;
        runner.kill("SIGKILL");
        await runner.ended;
        runners[which] = start();
      }
    }
    ledger = redisUrl === undefined ? new LmdbLedger(ledgerFolder) : new RedisLedger(redisUrl);
    const settled = async (): Promise<boolean> =>
      receiver.taken.size >= places && (await (ledger as Ledger).list("pending")).length === 0;
    while (!(await settled()) && Date.now() < untilMs) await sleep(100);
    const seconds = (Date.now() - startedMs) / 1000;
    for (const runner of runners) runner.kill("SIGTERM");
    for (const runner of runners) {
      const { code } = await runner.ended;
      if (code !== 0) faults.push(`SIGTERM ended a runner with ${code}: ${runner.stderr.slice(-500)}`);
    }
    faults.push(...(await check(receiver, ledger, places)));
    const before = receiver.requests;
    const { date } = JSON.parse([...receiver.taken.values()][0]?.body ?? '{"data":{}}').data;
    const again = start("--once", "--date", String(date));
    const { code } = await again.ended;
    if (code !== 0) faults.push(`a further run ended with ${code}: ${again.stderr.slice(-500)}`);
    if (receiver.requests !== before) faults.push(`a further run sent ${receiver.requests - before} requests`);
    return {
      places,
      received: receiver.taken.size,
      kills: killed,
      redisKills: redisKilled,
      requests: receiver.requests,
      repeated: receiver.repeated,
      manners: receiver.done,
      forecastRequests: service.requests,
      streamsCutShort,
      seconds,
      faults,
    };
  } finally {
    for (const runner of runners) runner.kill("SIGKILL");
    await Promise.all(runners.map(({ ended }) => ended));
    await ledger?.close();
    await Promise.all([receiver.stop(), service.stop(), redis?.remove()]);
    await rm(folder, { recursive: true, force: true });
  }
}

/** What does not hold of what was received. */
async function check(receiver: Receiver, ledger: Ledger, places: number): Promise<string[]> {
  const faults: string[] = [];
  if (receiver.taken.size !== places) faults.push(`${receiver.taken.size} of ${places} were received`);
  if (receiver.badSignatures > 0) faults.push(`${receiver.badSignatures} signatures were bad`);
  const nights = new Set<string>();
  for (const { id, body } of receiver.taken.values()) {
    const { place, date } = JSON.parse(body).data;
    if (nights.has(place.id)) faults.push(`${place.id} came under two ids`);
    nights.add(place.id);
    const expected = messageIdOf({ placeId: place.id, night: date, channel: "hook" });
    if (id !== expected) faults.push(`${place.id} came as ${id}, not as ${expected}`);
  }
  for (const state of ["pending", "dead", "missed"] as const) {
    const left = await ledger.list(state);
    if (left.length > 0)
      faults.push(`${left.length} are ${state} in the ledger, such as ${left[0]?.key}: ${left[0]?.reason}`);
  }
  return faults;
}

function draw(random: () => number): Manner {
  let rest = random() * 100;
  for (const [manner, share] of MANNERS) {
    rest -= share;
    if (rest < 0) return manner;
  }
  return "accept";
}
