import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { webhookChannel } from "@fieldstop/nightly/channels/webhook";
import type { Work } from "@fieldstop/nightly/delivery/work";
import type { ForecastSource, Made } from "@fieldstop/nightly/forecast/forecast-source";
import { fromService } from "@fieldstop/nightly/forecast/from-service";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { readPlaces } from "@fieldstop/nightly/places/read-places";
import { runSingle } from "@fieldstop/nightly/runners/single";
import pLimit from "p-limit";
import { ServiceProcess } from "../tests/load/service";
import { median } from "../tests/median";
import { writePlaces } from "../tests/nightly/support/places-file";
import { Receiver, SECRET } from "../tests/nightly/support/receiver";

/**
 * A night of 1,000 places of the island, forecast by a real service within its default rate limit and delivered, signed, to a receiver of this machine:
 * with horizons that are cold, each time by a new service with an empty cache, then known. Then what the runner adds to delivery (ledger on disk before and after,
 * signature, retries' bookkeeping), against a bare loop that posts the same bodies, in turns.
 */
const PLACES = 1000;
const CONCURRENCY = 32;
const COLD_NIGHTS = 3;
const ROUNDS = 5;
/** The default of the service. */
const RATE_LIMIT = "3000";

const folder = await mkdtemp(join(tmpdir(), "nightly-bench-"));
const receiver = await Receiver.start();
let service = await start(0, RATE_LIMIT);
const { places, retry } = await readPlaces(await writePlaces(join(folder, "places.json"), PLACES, receiver.url));
const never = new AbortController().signal;
let ledgers = 0;

try {
  console.log(`${PLACES} places, forecast and delivered:`);
  const cold: number[] = [];
  for (let night = 0; night < COLD_NIGHTS; night++) {
    if (night > 0) {
      await service.stop();
      service = await start(night, RATE_LIMIT);
    }
    cold.push(await post(fromService({ baseUrl: service.baseUrl }), `2027-03-1${night}`));
  }
  console.log(`  cold horizons  ${cold.map((seconds) => seconds.toFixed(1)).join(", ")} s  (mark: under 60 s)`);
  // a second night within the same minute would wait for points
  await service.stop();
  service = await start(COLD_NIGHTS - 1, "off");
  const fromNet = fromService({ baseUrl: service.baseUrl });
  console.log(`  warm horizons  ${(await post(fromNet, "2027-03-20")).toFixed(1)} s`);
  const nights = COLD_NIGHTS + 1;
  if (receiver.taken.size !== nights * PLACES) throw new Error(`${receiver.taken.size} of ${nights * PLACES} arrived`);

  const kept = await keep(fromNet, "2027-03-20");
  const bodies = [...receiver.taken.values()].slice(-PLACES).map(({ body }) => body);
  const runner: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    bare.push(await postBare(bodies));
    runner.push(await post(kept, "2027-03-20"));
  }
  const [runnerS, bareS] = [median(runner), median(bare)];
  console.log(
    `\ndelivery of ${PLACES} bodies of ${Math.round(bodies.join("").length / PLACES)} characters, ${ROUNDS} rounds:`,
  );
  console.log(`  bare loop      ${bareS.toFixed(2)} s`);
  console.log(`  runner         ${runnerS.toFixed(2)} s`);
  console.log(`  ratio          ${(runnerS / bareS).toFixed(2)}`);
} finally {
  await Promise.all([service.stop(), receiver.stop()]);
  await rm(folder, { recursive: true, force: true });
}

/** A service with the cache on disk of that night. */
function start(night: number, rateLimit: string): Promise<ServiceProcess> {
  return ServiceProcess.start({
    FIELDSTOP_CACHE_MB: "512",
    FIELDSTOP_CACHE_DIR: join(folder, `cache-${night}`),
    FIELDSTOP_RATE_LIMIT: rateLimit,
  });
}

/** Posts a night from a new ledger. @returns seconds */
async function post(forecasts: ForecastSource, date: string): Promise<number> {
  const ledger = new LmdbLedger(join(folder, `ledger-${ledgers++}`));
  await ledger.lease(() => {});
  const channel = webhookChannel({ url: receiver.url, secrets: [SECRET], timeoutMs: 15_000, full: false });
  const work: Work = {
    ledger,
    places: new Map(places.map((place) => [place.id, place])),
    channels: new Map([["hook", channel]]),
    forecasts,
    retry,
    journal: { requested() {}, made() {}, entry() {}, note: (text) => console.log(text) },
    now: Date.now,
    random: Math.random,
  };
  const startMs = performance.now();
  const options = { once: true, due: false, date, patienceMs: 300_000, concurrency: CONCURRENCY };
  const { waiting } = await runSingle(work, options, never);
  const seconds = (performance.now() - startMs) / 1000;
  if (waiting > 0) throw new Error(`${waiting} deliveries wait`);
  await ledger.close();
  return seconds;
}

/** The same forecasts from memory. */
async function keep(source: ForecastSource, date: string): Promise<ForecastSource> {
  const made: Made[] = [];
  const wanted = places.map((place) => ({ place, date }));
  for await (const one of source.make(wanted, never)) made.push(one);
  return {
    async *make() {
      yield* made;
    },
  };
}

async function postBare(bodies: readonly string[]): Promise<number> {
  const limit = pLimit(CONCURRENCY);
  const startMs = performance.now();
  const headers = { "Content-Type": "application/json" };
  await Promise.all(
    bodies.map((body) =>
      limit(async () => {
        const response = await fetch(receiver.url, { method: "POST", body, headers });
        await response.body?.cancel();
      }),
    ),
  );
  return (performance.now() - startMs) / 1000;
}
