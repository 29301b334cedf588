import type { Ledger } from "../ledger/ledger";
import { LmdbLedger } from "../ledger/lmdb-ledger";
import { RedisLedger } from "../ledger/redis-ledger";
import { type Environment, type GlobalOptions, ledgerFolder, redisUrl } from "./settings";

/** The ledger that the environment and the options point to. */
export function openLedger(options: GlobalOptions, env: Environment): Ledger {
  const url = redisUrl(env);
  return url === undefined ? new LmdbLedger(ledgerFolder(options, env)) : new RedisLedger(url);
}
