import { CommanderError } from "commander";
import { command } from "./cli/command";
import { ExitCode } from "./cli/exit-code";
import { Misuse } from "./cli/misuse";
import { LedgerInUse } from "./ledger/lease";
import { PlacesError } from "./places/fault";

const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM"] as const) {
  // the first one lets what is on its way arrive; a second one does not wait
  process.once(signal, () => {
    stop.abort(new Error(`stopped by ${signal}`));
    process.once(signal, () => process.exit(ExitCode.fault));
  });
}

try {
  await command(process.env, stop.signal, (code) => {
    process.exitCode = code;
  }).parseAsync();
} catch (error) {
  process.exitCode = exitCodeOf(error);
}

function exitCodeOf(error: unknown): ExitCode {
  // it has told of itself already
  if (error instanceof CommanderError) return error.exitCode === 0 ? ExitCode.done : ExitCode.misuse;
  const known = error instanceof Misuse || error instanceof PlacesError || error instanceof LedgerInUse;
  process.stderr.write(`${known ? error.message : error instanceof Error ? error.stack : String(error)}\n`);
  if (error instanceof LedgerInUse) return ExitCode.inUse;
  return known ? ExitCode.misuse : ExitCode.fault;
}
