import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { BUILT_COMMAND } from "../nightly/support/runner-process";
import { FAULTS } from "./faults";
import { fuzz } from "./fuzz";
import { proveByLoad } from "./load";
import { proveNeighbours } from "./neighbours";
import { proveNightly } from "./nightly";
import { ServiceProcess } from "./service";
import { meanOf, unrulyLoad } from "./unruly";

// `npm run test:load`: the built programs put to the proof, a table of figures for each part. `npm run test:load -- fuzz` runs one part.
// PROVE_REQUESTS says how many requests are drawn (20 000), PROVE_SEED which, PROVE_SECONDS how long twice the load lasts (60), PROVE_UNRULY_SECONDS
// how long callers misbehave (600), PROVE_PLACES how many places are posted (1000).

type Figures = Readonly<Record<string, string | number>>;
interface Proof {
  readonly figures: Figures;
  /** What did not hold; empty where all did. */
  readonly faults: readonly string[];
}

const parts: Readonly<Record<string, () => Promise<Proof>>> = {
  fuzz: proveByFuzz,
  load: () => proveByLoad(Number(process.env["PROVE_SECONDS"] ?? 60)),
  unruly: proveByUnrulyCallers,
  neighbours: proveByNeighbours,
  faults: proveByFaults,
  thorough: proveByThoroughTests,
  nightly: () => proveByNight({ kills: 20 }),
  "nightly-queue": () => proveByNight({ workers: 3, kills: 15, redisKills: 5 }),
};

async function proveByFaults(): Promise<Proof> {
  const figures: Record<string, string> = {};
  const faults: string[] = [];
  for (const [name, provoke] of Object.entries(FAULTS)) {
    const outcome = await provoke();
    figures[name] = outcome.figures;
    faults.push(...outcome.faults.map((fault) => `${name}: ${fault}`));
  }
  return { figures, faults };
}

/** The tests that `npm test` runs in part, whole. */
function proveByThoroughTests(): Promise<Proof> {
  const vitest = fileURLToPath(new URL("../../node_modules/vitest/vitest.mjs", import.meta.url));
  const startedAt = performance.now();
  const { status } = spawnSync(
    process.execPath,
    [vitest, "run", "tests/site", "tests/core/outing", "--testTimeout=600000"],
    {
      stdio: "inherit",
      env: { ...process.env, FIELDSTOP_TEST_THOROUGH: "1" },
    },
  );
  const figures = { "time [s]": ((performance.now() - startedAt) / 1000).toFixed(0) };
  return Promise.resolve({ figures, faults: status === 0 ? [] : ["a test failed: see above"] });
}

async function proveByFuzz(): Promise<Proof> {
  const requests = Number(process.env["PROVE_REQUESTS"] ?? 20_000);
  const seed = Number(process.env["PROVE_SEED"] ?? 20_270_320);
  // a heap that is free to grow hides what is never let go: in one of this size a leak ends the process
  const flags = ["--max-old-space-size=400"];
  const service = await ServiceProcess.start({}, { flags });
  const progress = (done: number): void => {
    if (process.stderr.isTTY) process.stderr.write(`\r${done} of ${requests}\r`);
  };
  const found = await fuzz(service, { requests, seed, progress });
  const exitCode = await service.stop();
  const faults = [...found.faults];
  if (service.log.includes('"msg":"fault"')) faults.push(`the log tells of a fault: ${service.log.slice(-2000)}`);
  if (exitCode !== 0) faults.push(`SIGTERM ended the service with ${exitCode}`);
  const { statuses, growthMb, residentMb, quartersMb } = found;
  return {
    figures: {
      "requests drawn from the contract": found.requests,
      "hostile requests": found.hostile,
      "answers by status": Object.entries(statuses)
        .map(([status, count]) => `${status}: ${count}`)
        .join(", "),
      "503 with Retry-After": found.shed,
      "requests a second": Math.round(found.perSecond),
      "slowest answer [ms]": Math.round(found.slowestMs),
      "memory at the end [MB]": residentMb === undefined ? "not told here" : Math.round(residentMb),
      "memory after each quarter [MB]": quartersMb.map(Math.round).join(", "),
      "growth over the second half [MB per 10,000]": growthMb === undefined ? "not told here" : growthMb.toFixed(1),
    },
    faults,
  };
}

async function proveByUnrulyCallers(): Promise<Proof> {
  const seconds = Number(process.env["PROVE_UNRULY_SECONDS"] ?? 600);
  const service = await ServiceProcess.start();
  const { manners, statuses, memoryMb, faults } = await unrulyLoad(service, seconds, 20_270_320);
  await service.stop();
  const counts = (of: Readonly<Record<string, number>>) =>
    Object.entries(of)
      .map(([name, n]) => `${name}: ${n}`)
      .join(", ");
  const fifths = [0, 0.2, 0.4, 0.6, 0.8].map((from) => meanOf(memoryMb, from, from + 0.2).toFixed(0));
  const figures = {
    "time [s]": seconds,
    "requests by manner": counts(manners),
    "answers by status": counts(statuses),
    "memory by fifths of the time [MB]": fifths.join(", "),
  };
  return { figures, faults };
}

async function proveByNeighbours(): Promise<Proof> {
  const { quietMs, besideMs, greedyStatuses, faults } = await proveNeighbours();
  const list = (values: readonly number[]) => values.map((ms) => ms.toFixed(1)).join(", ");
  const figures = {
    "99 of 100 alone, by round [ms]": list(quietMs),
    "99 of 100 beside one at its limit [ms]": list(besideMs),
    ratio: list(besideMs.map((ms, i) => ms / (quietMs[i] as number))),
    "the greedy one's answers": JSON.stringify(greedyStatuses),
  };
  return { figures, faults };
}

async function proveByNight(how: { kills: number; workers?: number; redisKills?: number }): Promise<Proof> {
  const places = Number(process.env["PROVE_PLACES"] ?? 1000);
  const seed = Number(process.env["PROVE_SEED"] ?? 20_270_320);
  const proof = await proveNightly({ ...how, places, seed, command: BUILT_COMMAND, withinMs: 1_800_000 });
  const share = (count: number): string => `${count} (${((100 * count) / proof.requests).toFixed(0)} %)`;
  return {
    figures: {
      "places and nights to post": proof.places,
      "received, each once by its id": proof.received,
      "runners killed with -9": proof.kills,
      "Redis killed with -9": proof.redisKills,
      "requests that the receiver met": proof.requests,
      "of these repetitions under a known id": share(proof.repeated),
      ...Object.fromEntries(
        Object.entries(proof.manners).map(([manner, count]) => [`receiver: ${manner}`, share(count)]),
      ),
      "requests for forecasts, streams cut short": `${proof.forecastRequests}, ${proof.streamsCutShort}`,
      "time [s]": proof.seconds.toFixed(1),
    },
    faults: proof.faults,
  };
}

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !Object.hasOwn(parts, name));
if (unknown.length > 0)
  throw new Error(`No part named ${unknown.join(", ")}; there are ${Object.keys(parts).join(", ")}.`);
for (const name of asked.length > 0 ? asked : Object.keys(parts)) {
  console.log(`\n# ${name}\n`);
  const { figures, faults } = await (parts[name] as () => Promise<Proof>)();
  for (const [label, value] of Object.entries(figures)) console.log(`${label.padEnd(46)} ${value}`);
  console.log(`${"faults".padEnd(46)} ${faults.length}`);
  for (const fault of faults) console.log(`- ${fault}`);
  if (faults.length > 0) process.exitCode = 1;
}
