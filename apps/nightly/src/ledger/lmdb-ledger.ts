import { existsSync, rmSync, writeFileSync } from "node:fs";
import { type Database, open, type RootDatabase } from "lmdb";
import { makeFolder } from "../files/make-folder";
import { acquireLease, type Holder, type Lease } from "./lease";
import type { Entry, FeedItem, Ledger } from "./ledger";
import { ledgerFaultOf } from "./ledger-fault";
import { newestNights } from "./newest-nights";
import { QueuesByName } from "./queues-by-name";
import { requireWhole } from "./whole-file";

type State = Entry["state"];

/** A change that waits for the next transaction, and whoever waits for it. */
interface Change {
  readonly run: () => unknown;
  readonly resolve: (result: never) => void;
  readonly reject: (error: unknown) => void;
}

const ROOM_BYTES = 65_536;

/**
 * The ledger of one machine: a folder with an LMDB file, written by whole transactions that survive a kill at any
 * instant. Any number of processes may read it and replay; only the holder of the lease posts.
 */
export class LmdbLedger implements Ledger {
  readonly #file: string;
  readonly #root: RootDatabase;
  readonly #entries: Record<State, Database<Entry, string>>;
  readonly #through: Database<string, string>;
  readonly #items: Database<FeedItem, [string, string]>;
  readonly #queues = new QueuesByName();
  #changes: Change[] = [];
  #lease: Lease | undefined;

  /** @throws LedgerFault where the file is damaged or the disk is full, and the system's error where there can be no file */
  constructor(folder: string) {
    this.#file = `${folder}/ledger.mdb`;
    try {
      makeFolder(folder);
      const begun = `${folder}/ledger.begun`;
      requireWhole(this.#file, existsSync(begun));
      requireRoom(folder);
      // a transaction is on the disk before it ends
      this.#root = open({ path: this.#file, maxDbs: 8, overlappingSync: false, compression: true });
      const entries = (name: State): Database<Entry, string> => this.#root.openDB({ name });
      this.#entries = {
        pending: entries("pending"),
        delivered: entries("delivered"),
        dead: entries("dead"),
        missed: entries("missed"),
      };
      this.#through = this.#root.openDB({ name: "through" });
      this.#items = this.#root.openDB({ name: "items" });
      if (!existsSync(begun)) writeFileSync(begun, "");
    } catch (error) {
      throw ledgerFaultOf(this.#file, error) ?? error;
    }
  }

  /** Makes this process the one that posts. @throws LedgerInUse while another one is. */
  async lease(onLost: (error: Error) => void): Promise<void> {
    const leases = this.#root.openDB<Holder, string>({ name: "lease" });
    this.#lease = await acquireLease(leases, (run) => this.#write(run), onLost);
  }

  async unknown(keys: readonly string[]): Promise<Set<string>> {
    return this.#read(() => new Set(keys.filter((key) => this.#find(key) === undefined)));
  }

  open(entries: readonly Entry[]): Promise<Entry[]> {
    return this.#write(() => {
      const fresh = entries.filter(({ key }) => this.#find(key) === undefined);
      for (const entry of fresh) this.#entries[entry.state].put(entry.key, entry);
      return fresh;
    });
  }

  async get(key: string): Promise<Entry | undefined> {
    return this.#read(() => this.#find(key));
  }

  update(entry: Entry): Promise<boolean> {
    return this.#write(() => {
      const before = this.#find(entry.key);
      if (before?.state === "delivered") return false;
      if (before !== undefined && before.state !== entry.state) this.#entries[before.state].remove(entry.key);
      this.#entries[entry.state].put(entry.key, entry);
      return true;
    });
  }

  async list(state: "pending" | "dead" | "missed"): Promise<Entry[]> {
    return this.#read(() => [...this.#entries[state].getRange({ snapshot: true })].map(({ value }) => value));
  }

  async through(placeIds: readonly string[]): Promise<Map<string, string>> {
    const known = this.#read(() => placeIds.map((id) => [id, this.#through.get(id)] as const));
    return new Map(known.filter((pair): pair is [string, string] => pair[1] !== undefined));
  }

  setThrough(nights: ReadonlyMap<string, string>): Promise<void> {
    return this.#write(() => {
      for (const [placeId, night] of nights) this.#through.put(placeId, night);
    });
  }

  addItem(file: string, item: FeedItem): Promise<void> {
    return this.#write(() => {
      this.#items.put([file, item.id], item);
    });
  }

  async items(file: string, keep: number): Promise<FeedItem[]> {
    const range = { start: [file], end: [`${file}\u0000`] } as never;
    const all = this.#read(() => [...this.#items.getRange(range)].map(({ value }) => value));
    const { shown, past } = newestNights(all, keep);
    if (past.length > 0) {
      await this.#write(() => {
        for (const { id } of past) this.#items.remove([file, id]);
      });
    }
    return shown;
  }

  exclusively<T>(name: string, run: () => Promise<T>): Promise<T> {
    return this.#queues.run(name, run);
  }

  prune(beforeMs: number): Promise<void> {
    return this.#write(() => {
      for (const state of ["delivered", "missed", "dead"] as const) {
        for (const { key, value } of this.#entries[state].getRange()) {
          if (value.sinceMs < beforeMs) this.#entries[state].remove(key);
        }
      }
    });
  }

  async close(): Promise<void> {
    // a lease that cannot be given back on a full disk ends with this process
    await this.#lease?.release().catch(() => {});
    await this.#root.close();
  }

  #find(key: string): Entry | undefined {
    for (const entries of Object.values(this.#entries)) {
      const entry = entries.get(key);
      if (entry !== undefined) return entry;
    }
    return undefined;
  }

  #read<T>(run: () => T): T {
    try {
      this.#root.resetReadTxn();
      return run();
    } catch (error) {
      throw ledgerFaultOf(this.#file, error) ?? error;
    }
  }

  #write<T>(run: () => T): Promise<T> {
    return new Promise((resolve, reject) => {
      if (this.#changes.length === 0) setImmediate(() => this.#commit());
      this.#changes.push({ run, resolve, reject });
    });
  }

  /**
   * Writes in one transaction what came in one turn of the event loop: one flush for all of it, all of it or nothing.
   * The transaction is synchronous: an asynchronous one of this store that fails may never say so, and keeps its lock.
   */
  #commit(): void {
    const changes = this.#changes;
    this.#changes = [];
    try {
      const results = this.#root.transactionSync(() => {
        // refused once another runner has taken the lease over
        this.#lease?.check();
        return changes.map(({ run }) => run());
      });
      for (const [index, { resolve }] of changes.entries()) resolve(results[index] as never);
    } catch (error) {
      const fault = ledgerFaultOf(this.#file, error);
      // the store's own line about it has no end
      if (fault !== undefined) process.stderr.write("\n");
      for (const { reject } of changes) reject(fault ?? error);
    }
  }
}

/**
 * Check that the disk takes something more. LMDB maps its lock file into memory, and a process that touches a mapped page for
 * which the disk has no room is killed.
 */
function requireRoom(folder: string): void {
  const probe = `${folder}/room.${process.pid}.tmp`;
  try {
    writeFileSync(probe, Buffer.alloc(ROOM_BYTES));
  } finally {
    rmSync(probe, { force: true });
  }
}
