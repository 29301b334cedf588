import { type Database, open, type RootDatabase } from "lmdb";
import { makeFolder } from "../files/make-folder";
import { acquireLease, type Lease } from "./lease";
import type { Entry, FeedItem, Ledger } from "./ledger";
import { newestNights } from "./newest-nights";
import { QueuesByName } from "./queues-by-name";

type State = Entry["state"];

/**
 * The ledger of one machine: a folder with an LMDB file, written by whole transactions that survive a kill at any
 * instant. Any number of processes may read it and replay; only the holder of the lease posts.
 */
export class LmdbLedger implements Ledger {
  readonly #root: RootDatabase;
  readonly #entries: Record<State, Database<Entry, string>>;
  readonly #through: Database<string, string>;
  readonly #items: Database<FeedItem, [string, string]>;
  readonly #queues = new QueuesByName();
  #lease: Lease | undefined;

  constructor(folder: string) {
    makeFolder(folder);
    // a transaction is on the disk before its promise resolves
    this.#root = open({ path: `${folder}/ledger.mdb`, maxDbs: 8, overlappingSync: false, compression: true });
    const entries = (name: State): Database<Entry, string> => this.#root.openDB({ name });
    this.#entries = {
      pending: entries("pending"),
      delivered: entries("delivered"),
      dead: entries("dead"),
      missed: entries("missed"),
    };
    this.#through = this.#root.openDB({ name: "through" });
    this.#items = this.#root.openDB({ name: "items" });
  }

  /** Makes this process the one that posts. @throws LedgerInUse while another one is. */
  async lease(onLost: (error: Error) => void): Promise<void> {
    this.#lease = await acquireLease(this.#root, onLost);
  }

  async unknown(keys: readonly string[]): Promise<Set<string>> {
    this.#root.resetReadTxn();
    return new Set(keys.filter((key) => this.#find(key) === undefined));
  }

  open(entries: readonly Entry[]): Promise<Entry[]> {
    return this.#write(() => {
      const fresh = entries.filter(({ key }) => this.#find(key) === undefined);
      for (const entry of fresh) this.#entries[entry.state].put(entry.key, entry);
      return fresh;
    });
  }

  async get(key: string): Promise<Entry | undefined> {
    this.#root.resetReadTxn();
    return this.#find(key);
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
    this.#root.resetReadTxn();
    return [...this.#entries[state].getRange({ snapshot: true })].map(({ value }) => value);
  }

  async through(placeIds: readonly string[]): Promise<Map<string, string>> {
    this.#root.resetReadTxn();
    const known = placeIds.map((id) => [id, this.#through.get(id)] as const);
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
    this.#root.resetReadTxn();
    const all = [...this.#items.getRange({ start: [file], end: [`${file}\u0000`] })].map(({ value }) => value);
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
    await this.#lease?.release();
    await this.#root.close();
  }

  #find(key: string): Entry | undefined {
    for (const entries of Object.values(this.#entries)) {
      const entry = entries.get(key);
      if (entry !== undefined) return entry;
    }
    return undefined;
  }

  /** A transaction of the runner is refused once another one has taken the lease over. */
  #write<T>(run: () => T): Promise<T> {
    return this.#root.transaction(() => {
      this.#lease?.check();
      return run();
    });
  }
}
