import type { Entry } from "../ledger/ledger";
import { ExitCode } from "./exit-code";
import { openLedger } from "./open-ledger";
import { print } from "./print";
import type { Environment, GlobalOptions } from "./settings";

export interface DeadCommand extends GlobalOptions {
  readonly missed: boolean;
  readonly json: boolean;
}

/** `dead`: what could not be delivered, and why; with `--missed`, the nights that nobody was there to post. */
export async function showDead(command: DeadCommand, env: Environment): Promise<ExitCode> {
  const ledger = openLedger(command, env);
  try {
    const entries = await ledger.list(command.missed ? "missed" : "dead");
    entries.sort((a, b) => a.sinceMs - b.sinceMs);
    for (const entry of entries) await print(`${command.json ? asJson(entry) : asLine(entry)}\n`);
    if (!command.json) process.stderr.write(`${entries.length} ${command.missed ? "missed" : "dead"}\n`);
    return ExitCode.done;
  } finally {
    await ledger.close();
  }
}

function asLine({ messageId, key, attempts, sinceMs, reason }: Entry): string {
  return `${messageId}  ${new Date(sinceMs).toISOString()}  ${key}  ${attempts} tries: ${reason}`;
}

function asJson({ message: _, nextAttemptMs: __, ...entry }: Entry): string {
  return JSON.stringify(entry);
}
