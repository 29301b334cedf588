import { replay } from "../delivery/replay";
import { ExitCode } from "./exit-code";
import { Misuse } from "./misuse";
import { openLedger } from "./open-ledger";
import type { Environment, GlobalOptions } from "./settings";

export interface ReplayCommand extends GlobalOptions {
  readonly ids: readonly string[];
  readonly all: boolean;
}

/** `replay`: gives dead deliveries new tries, which the runner that is up makes within seconds, or else the next one. */
export async function replayDead(command: ReplayCommand, env: Environment): Promise<ExitCode> {
  if (command.all === command.ids.length > 0) throw new Misuse("Say which to replay: ids, or --all.");
  const ledger = openLedger(command, env);
  try {
    const dead = await ledger.list("dead");
    const named = new Set(command.ids);
    const chosen = dead.filter(({ key, messageId }) => command.all || named.has(key) || named.has(messageId));
    for (const { key, messageId } of chosen) {
      named.delete(key);
      named.delete(messageId);
    }
    if (named.size > 0) throw new Misuse(`Nothing dead is named ${[...named].join(", ")}; nothing was replayed.`);
    const replayed = await replay(ledger, chosen, Date.now());
    process.stderr.write(`${replayed.length} will be tried again by the runner, or by the next run\n`);
    return ExitCode.done;
  } finally {
    await ledger.close();
  }
}
