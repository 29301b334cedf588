import { CommanderError } from "commander";
import { command } from "./cli/command";
import { ExitCode } from "./cli/exit-code";
import { Misuse } from "./cli/misuse";
import { LedgerInUse } from "./ledger/lease";
import { LedgerFault } from "./ledger/ledger-fault";
import { PlacesError } from "./places/fault";

/** How long a stop may take, whatever it waits for: the runner's own grace, and as much again to close [ms]. */
const LONGEST_STOP_MS = 20_000;

const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM"] as const) {
  // the first one lets what is on its way arrive; a second one does not wait
  process.once(signal, () => {
    process.once(signal, () => process.exit(ExitCode.fault));
    setTimeout(giveUp, LONGEST_STOP_MS).unref();
    stop.abort(new Error(`Stopped by ${signal}.`));
  });
}
// a terminal or a log that takes nothing more stops no delivery; who must know it is told by the write itself
for (const stream of [process.stdout, process.stderr]) stream.on("error", () => {});

try {
  await command(process.env, stop.signal, (code) => {
    process.exitCode = code;
  }).parseAsync();
} catch (error) {
  process.exitCode = exitCodeOf(error);
}

function giveUp(): void {
  process.stderr.write("It did not stop in time and was ended; what was on its way is sent again by the next run.\n");
  process.exit(ExitCode.fault);
}

function exitCodeOf(error: unknown): ExitCode {
  // it has told of itself already
  if (error instanceof CommanderError) return error.exitCode === 0 ? ExitCode.done : ExitCode.misuse;
  const stopped = stop.signal.aborted && error === stop.signal.reason;
  const known = [Misuse, PlacesError, LedgerInUse, LedgerFault].some((kind) => error instanceof kind);
  // of what the system refuses, its own sentence says enough
  const plain = known || stopped || (error as NodeJS.ErrnoException).syscall !== undefined;
  const text = error instanceof Error ? (plain ? error.message : error.stack) : String(error);
  process.stderr.write(`${text}\n`);
  if (stopped) return ExitCode.unfinished;
  if (error instanceof LedgerFault) return ExitCode.ledger;
  if (error instanceof LedgerInUse) return ExitCode.inUse;
  return known ? ExitCode.misuse : ExitCode.fault;
}
