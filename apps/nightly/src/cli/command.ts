import { Command, InvalidArgumentError, Option } from "commander";
import { showDead } from "./dead";
import type { ExitCode } from "./exit-code";
import { Misuse } from "./misuse";
import { replayDead } from "./replay";
import { run } from "./run";
import type { Environment, GlobalOptions } from "./settings";

const EXIT_CODES = `
Exit codes:
  0  all was delivered, or there was nothing to do
  1  a fault of the command's own
  2  the command line, the places file or the environment makes no sense; nothing was done
  3  a single pass ended, but deliveries wait for another run, died or were missed
  4  another runner posts from this ledger
  5  the forecast service could not be asked
  6  the ledger cannot be written any more (the disk is full), or is damaged

Environment:
  FIELDSTOP_API_URL    the service to ask
  FIELDSTOP_API_KEY    its key, where it wants one
  FIELDSTOP_REDIS_URL  shares the work with other runners through Redis; the ledger is there, then
  FIELDSTOP_LOG_LEVEL  for the log that is written where there is no terminal (info)
  and the variables that the places file names: secrets are never in the file`;

/** The command line; `ended` is told the exit code. */
export function command(env: Environment, signal: AbortSignal, ended: (code: ExitCode) => void): Command {
  const program = new Command("nightly")
    .description("Posts the light of the night for a list of places, to each at its own local hour, once.")
    .option("--places <file>", "the places, YAML or JSON")
    .option(
      "--ledger <folder>",
      "what was posted and what waits (default: fieldstop-nightly in the user's state folder)",
    )
    .option("--serve <file>", "where FIELDSTOP_API_URL is not set: start this service for the time being")
    .exitOverride();
  const running = program
    .command("run", { isDefault: true })
    .description("post on and on until stopped, or once (this is the default)")
    .option("--once", "one pass over all places, whatever the hour, then an end", false)
    .option("--due", "with --once: only places whose hour has come", false)
    .addOption(
      new Option("--date <date>", "with --once or --dry-run: this night instead of tonight").argParser(calendarDate),
    )
    .option("--dry-run", "show what would be posted; nothing is sent or noted", false)
    .option("--wait <seconds>", "with --once: how long to try failed deliveries again", wholeNumber, 60)
    .option("--concurrency <count>", "deliveries on their way at once", wholeNumber, 32)
    .action(async ({ wait, ...options }, self: Command) => {
      if (options.date !== undefined && !options.once && !options.dryRun) throw new Misuse("--date goes with --once.");
      if (options.due && (!options.once || options.date !== undefined))
        throw new Misuse("--due goes with --once alone.");
      const globals = self.optsWithGlobals<GlobalOptions>();
      ended(await run({ ...globals, ...options, patienceMs: wait * 1000 }, env, signal));
    });
  program
    .command("dead")
    .description("show what could not be delivered, and why")
    .option("--missed", "show the nights that were over before they could be posted, instead", false)
    .option("--json", "a line of JSON for each", false)
    .action(async (options, self: Command) => {
      ended(await showDead({ ...self.optsWithGlobals<GlobalOptions>(), ...options }, env));
    });
  program
    .command("replay [ids...]")
    .description("try dead deliveries again, under their old ids")
    .option("--all", "all of them", false)
    .action(async (ids: string[], options, self: Command) => {
      ended(await replayDead({ ...self.optsWithGlobals<GlobalOptions>(), ...options, ids }, env));
    });
  program.addHelpText("after", () => `\n${running.helpInformation()}${EXIT_CODES}`);
  for (const sub of program.commands) sub.exitOverride();
  return program;
}

function calendarDate(given: string): string {
  const date = /^\d{4}-\d{2}-\d{2}$/.test(given) ? new Date(`${given}T00:00:00Z`) : new Date(Number.NaN);
  if (Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== given) {
    throw new InvalidArgumentError("Allowed: a calendar day, YYYY-MM-DD.");
  }
  return given;
}

function wholeNumber(given: string): number {
  const number = Number(given);
  if (!/^\d+$/.test(given) || number < 1 || number > 100_000) throw new InvalidArgumentError("Allowed: 1 to 100000.");
  return number;
}
