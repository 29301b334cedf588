import { makeChannels } from "../channels/make-channels";
import type { Work } from "../delivery/work";
import { ServiceOutage } from "../forecast/forecast-source";
import { fromService } from "../forecast/from-service";
import { LmdbLedger } from "../ledger/lmdb-ledger";
import { type Places, readPlaces } from "../places/read-places";
import { runQueued } from "../runners/queued";
import type { RunOptions } from "../runners/runner";
import { runSingle } from "../runners/single";
import { startChildService } from "../service/child-service";
import { dryRun } from "./dry-run";
import { ExitCode } from "./exit-code";
import { logJournal } from "./log-journal";
import { Misuse } from "./misuse";
import { openLedger } from "./open-ledger";
import { print } from "./print";
import {
  type Environment,
  type GlobalOptions,
  logLevel,
  placesFile,
  redisUrl,
  serviceUrl,
  unknownVariables,
} from "./settings";
import { type Counts, tally } from "./tally";
import { terminalJournal } from "./terminal-journal";

export interface RunCommand extends GlobalOptions, RunOptions {
  readonly dryRun: boolean;
}

/** The command without a name: posts, once or on and on. */
export async function run(command: RunCommand, env: Environment, signal: AbortSignal): Promise<ExitCode> {
  const level = logLevel(env);
  const file = placesFile(command);
  const places = await readPlaces(file);
  // a service of one's own reads the same environment, and tells itself of what nobody knows
  if (command.serve === undefined || serviceUrl(env) !== undefined) {
    for (const sentence of unknownVariables(env, variablesOf(places.channels))) tell(level, sentence);
  }
  const service = await reach(command, env, signal);
  const forecasts = fromService({ baseUrl: service.baseUrl, apiKey: env["FIELDSTOP_API_KEY"] });
  try {
    if (command.dryRun) {
      const refused = await dryRun(places, forecasts, command.date, signal);
      return refused === 0 ? ExitCode.done : ExitCode.unfinished;
    }
    const ledger = openLedger(command, env);
    try {
      const channels = makeChannels(places.channels, { file, env, ledger, print });
      const stop = new AbortController();
      if (ledger instanceof LmdbLedger) await ledger.lease((error) => stop.abort(error));
      const report = reporter(level);
      const work: Work = {
        ledger,
        places: new Map(places.places.map((place) => [place.id, place])),
        channels,
        forecasts,
        retry: places.retry,
        journal: report.journal,
        now: Date.now,
        random: Math.random,
      };
      const url = redisUrl(env);
      const either = AbortSignal.any([signal, stop.signal]);
      const ran = url === undefined ? runSingle(work, command, either) : runQueued(work, command, { url }, either);
      const result = await ran.finally(report.end);
      if (stop.signal.aborted) throw stop.signal.reason;
      if (!command.once) return ExitCode.done;
      if (result.forecasts === "unreachable") return ExitCode.unreachable;
      const { dead, missed } = report.counts;
      return result.waiting + dead + missed === 0 ? ExitCode.done : ExitCode.unfinished;
    } finally {
      await ledger.close();
    }
  } catch (error) {
    if (!(error instanceof ServiceOutage)) throw error;
    process.stderr.write(`The forecast service at ${service.baseUrl} did not answer: ${error.message}\n`);
    return ExitCode.unreachable;
  } finally {
    await service.stop();
  }
}

/** The variables that channels keep their secrets in. */
function variablesOf(channels: Places["channels"]): string[] {
  return Object.values(channels).flatMap((channel) => [
    ...("urlEnv" in channel && channel.urlEnv !== undefined ? [channel.urlEnv] : []),
    ...("secretEnv" in channel ? [channel.secretEnv].flat() : []),
  ]);
}

function tell(level: string, sentence: string): void {
  if (process.stderr.isTTY) process.stderr.write(`${sentence}\n`);
  else logJournal(level).note(sentence);
}

/** The service that the environment names, or else one of our own. */
async function reach(
  { serve }: GlobalOptions,
  env: Environment,
  signal: AbortSignal,
): Promise<{ baseUrl: string; stop(): Promise<void> }> {
  const baseUrl = serviceUrl(env);
  if (baseUrl !== undefined) return { baseUrl, stop: async () => {} };
  if (serve !== undefined) return startChildService(serve, signal);
  throw new Misuse("Say where the service is: FIELDSTOP_API_URL, or --serve FILE to start one.");
}

function reporter(level: string) {
  const onTerminal = process.stderr.isTTY;
  const log = logJournal(level);
  const terminal = terminalJournal(process.stderr, (): Counts => counted.counts);
  const counted = tally(onTerminal ? terminal : log);
  const end = (): void => {
    terminal.end();
    if (onTerminal) process.stderr.write(`${closing(counted.counts)}\n`);
    else log.summary(counted.counts);
  };
  return { ...counted, end };
}

function closing({ forecastsRequested, delivered, retries, dead, missed }: Counts): string {
  if (forecastsRequested + delivered + dead + missed === 0) {
    return "Nothing to do: everything asked for was dealt with before. --dry-run shows it again.";
  }
  return `${delivered} delivered, ${retries} retries, ${dead} dead, ${missed} missed.`;
}
