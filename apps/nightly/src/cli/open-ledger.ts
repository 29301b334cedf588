import type { Ledger } from "../ledger/ledger";
import { LedgerFault } from "../ledger/ledger-fault";
import { LmdbLedger } from "../ledger/lmdb-ledger";
import { RedisLedger } from "../ledger/redis-ledger";
import { Misuse } from "./misuse";
import { type Environment, type GlobalOptions, ledgerFolder, redisUrl } from "./settings";

/** The ledger that the environment and the options point to. @throws Misuse where there can be none, LedgerFault where it is damaged or full */
export function openLedger(options: GlobalOptions, env: Environment): Ledger {
  const url = redisUrl(env);
  if (url !== undefined) return new RedisLedger(url);
  const folder = ledgerFolder(options, env);
  try {
    return new LmdbLedger(folder);
  } catch (error) {
    if (error instanceof LedgerFault) throw error;
    const why = error instanceof Error ? error.message : String(error);
    throw new Misuse(`The ledger cannot be opened in ${folder} (${why}).`);
  }
}
