import { randomUUID } from "node:crypto";
import { hostname } from "node:os";
import type { Database } from "lmdb";

/** Another runner posts from this ledger. */
export class LedgerInUse extends Error {
  override readonly name = "LedgerInUse";
}

/** The right of one process to post from a ledger. */
export interface Lease {
  /** To be called within a transaction. @throws LedgerInUse where another process has taken it. */
  check(): void;
  release(): Promise<void>;
}

export interface Holder {
  readonly token: string;
  readonly pid: number;
  readonly host: string;
  readonly renewedMs: number;
}

const RENEW_MS = 5_000;
const STALE_MS = 30_000;

/**
 * Takes the lease, unless its holder lives. A killed holder is known by its process, at once; one whose process id has
 * gone to another program, or that was put to sleep, by not having renewed. It finds itself refused when it wakes.
 */
export async function acquireLease(
  leases: Database<Holder, string>,
  write: (run: () => void) => Promise<void>,
  onLost: (error: Error) => void,
): Promise<Lease> {
  const token = randomUUID();
  const mine = (): Holder => ({ token, pid: process.pid, host: hostname(), renewedMs: Date.now() });
  const check = (): void => {
    const holder = leases.get("runner");
    if (holder?.token !== token) {
      throw new LedgerInUse(`the ledger has been taken over by process ${holder?.pid} on ${holder?.host}`);
    }
  };
  await write(() => {
    const holder = leases.get("runner");
    if (holder !== undefined && lives(holder)) {
      throw new LedgerInUse(`process ${holder.pid} on ${holder.host} posts from this ledger`);
    }
    leases.put("runner", mine());
  });
  const timer = setInterval(() => {
    const renewed = write(() => {
      check();
      leases.put("runner", mine());
    });
    renewed.catch(onLost);
  }, RENEW_MS);
  timer.unref();
  return {
    check,
    release: async () => {
      clearInterval(timer);
      await write(() => {
        if (leases.get("runner")?.token === token) leases.remove("runner");
      });
    },
  };
}

function lives({ pid, host, renewedMs }: Holder): boolean {
  if (Date.now() - renewedMs > STALE_MS) return false;
  if (host !== hostname()) return true;
  if (pid === process.pid) return true;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
