import { randomUUID } from "node:crypto";
import { setTimeout as sleep } from "node:timers/promises";
import { Redis, type RedisOptions } from "ioredis";
import type { Entry, FeedItem, Ledger } from "./ledger";
import { newestNights } from "./newest-nights";
import { QueuesByName } from "./queues-by-name";
import { OPEN_SCRIPT, RELEASE_SCRIPT, UPDATE_SCRIPT } from "./redis-scripts";

type Script = (...args: (string | number)[]) => Promise<unknown>;
type Scripted = Redis & { openEntries: Script; updateEntry: Script; releaseLock: Script };

const KEEP_SECONDS = 400 * 86_400;
const LOCK_MS = 30_000;

/** The ledger that many machines share: the same states and rules as on one, in Redis, each change in one script. */
export class RedisLedger implements Ledger {
  readonly #redis: Scripted;
  readonly #queues = new QueuesByName();

  /** @param prefix of all keys; its braces keep them together on one node of a cluster */
  constructor(
    url: string,
    private readonly prefix = "{fieldstop-nightly}",
    options: RedisOptions = {},
  ) {
    // while Redis is away commands wait for it: what was sent must be noted, however long that takes
    const redis = new Redis(url, { maxRetriesPerRequest: null, ...options });
    redis.on("error", () => {});
    redis.defineCommand("openEntries", { numberOfKeys: 0, lua: OPEN_SCRIPT });
    redis.defineCommand("updateEntry", { numberOfKeys: 1, lua: UPDATE_SCRIPT });
    redis.defineCommand("releaseLock", { numberOfKeys: 1, lua: RELEASE_SCRIPT });
    this.#redis = redis as Scripted;
  }

  async unknown(keys: readonly string[]): Promise<Set<string>> {
    const pipeline = this.#redis.pipeline();
    for (const key of keys) pipeline.exists(this.#entryKey(key));
    const found = await results(pipeline.exec());
    return new Set(keys.filter((_, index) => found[index] === 0));
  }

  async open(entries: readonly Entry[]): Promise<Entry[]> {
    const args = entries.flatMap((entry) => [entry.key, entry.state, JSON.stringify(entry)]);
    const fresh = new Set((await this.#redis.openEntries(this.prefix, KEEP_SECONDS, ...args)) as string[]);
    return entries.filter(({ key }) => fresh.has(key));
  }

  async get(key: string): Promise<Entry | undefined> {
    const json = await this.#redis.hget(this.#entryKey(key), "json");
    return json === null ? undefined : (JSON.parse(json) as Entry);
  }

  async update(entry: Entry): Promise<boolean> {
    const { key, state } = entry;
    const args = [this.prefix, KEEP_SECONDS, key, state, JSON.stringify(entry)];
    return (await this.#redis.updateEntry(this.#entryKey(key), ...args)) === 1;
  }

  async list(state: "pending" | "dead" | "missed"): Promise<Entry[]> {
    const keys = await this.#redis.smembers(`${this.prefix}:${state}`);
    const pipeline = this.#redis.pipeline();
    for (const key of keys.sort()) pipeline.hget(this.#entryKey(key), "json");
    const found = (await results(pipeline.exec())) as (string | null)[];
    const entries = found.filter((json) => json !== null).map((json) => JSON.parse(json) as Entry);
    return entries.filter((entry) => entry.state === state);
  }

  async through(placeIds: readonly string[]): Promise<Map<string, string>> {
    if (placeIds.length === 0) return new Map();
    const nights = await this.#redis.hmget(`${this.prefix}:through`, ...placeIds);
    const known = placeIds.map((id, index) => [id, nights[index] ?? null] as const);
    return new Map(known.filter((pair): pair is [string, string] => pair[1] !== null));
  }

  async setThrough(nights: ReadonlyMap<string, string>): Promise<void> {
    if (nights.size > 0) await this.#redis.hset(`${this.prefix}:through`, new Map(nights));
  }

  async addItem(file: string, item: FeedItem): Promise<void> {
    await this.#redis.hset(this.#itemsKey(file), item.id, JSON.stringify(item));
  }

  async items(file: string, keep: number): Promise<FeedItem[]> {
    const all = await this.#redis.hvals(this.#itemsKey(file));
    const { shown, past } = newestNights(
      all.map((json) => JSON.parse(json) as FeedItem),
      keep,
    );
    if (past.length > 0) await this.#redis.hdel(this.#itemsKey(file), ...past.map(({ id }) => id));
    return shown;
  }

  exclusively<T>(name: string, run: () => Promise<T>): Promise<T> {
    return this.#queues.run(name, () => this.#locked(name, run));
  }

  /** Redis forgets by itself. */
  async prune(): Promise<void> {}

  async close(): Promise<void> {
    this.#redis.disconnect();
  }

  async #locked<T>(name: string, run: () => Promise<T>): Promise<T> {
    const lock = `${this.prefix}:lock:${name}`;
    const token = randomUUID();
    while ((await this.#redis.set(lock, token, "PX", LOCK_MS, "NX")) === null) await sleep(20 + 30 * Math.random());
    try {
      return await run();
    } finally {
      await this.#redis.releaseLock(lock, token);
    }
  }

  #entryKey(key: string): string {
    return `${this.prefix}:entry:${key}`;
  }

  #itemsKey(file: string): string {
    return `${this.prefix}:items:${file}`;
  }
}

/** What a pipeline's commands answered. @throws the first of their errors */
async function results(executed: Promise<[Error | null, unknown][] | null>): Promise<unknown[]> {
  return ((await executed) ?? []).map(([error, value]) => {
    if (error !== null) throw error;
    return value;
  });
}
