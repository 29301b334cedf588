import type { Message } from "../forecast/message";
import type { DeliveryName } from "./key";

/** A delivery as the ledger knows it. */
export interface Entry extends DeliveryName {
  readonly key: string;
  /** Stable across retries, replays, crashes and machines. */
  readonly messageId: string;
  readonly state: "pending" | "delivered" | "dead" | "missed";
  /** Tries made so far; a replay begins again. */
  readonly attempts: number;
  /** When it may be tried next. */
  readonly nextAttemptMs: number;
  /** When it is of no use any more; absent where somebody asked for this very night. */
  readonly expiresMs?: number;
  /** What is sent: kept from before the first try until it has arrived. */
  readonly message?: Message;
  /** Why the last try failed, or why there was none. */
  readonly reason?: string;
  /** When it came to its present state. */
  readonly sinceMs: number;
}

/** One night in a feed or calendar file. */
export interface FeedItem {
  readonly id: string;
  readonly updatedMs: number;
  readonly message: Message;
}

/**
 * What was posted, what waits and what failed, durably: each method has reached the disk (or Redis) when it resolves.
 * Once delivered stays delivered, whatever a slower runner says later.
 */
export interface Ledger {
  /** Which of these it has never heard of. */
  unknown(keys: readonly string[]): Promise<Set<string>>;
  /** Takes up new entries, all or none of them; those it has already stay as they are. Returns those that were new. */
  open(entries: readonly Entry[]): Promise<Entry[]>;
  get(key: string): Promise<Entry | undefined>;
  /** Puts an entry in place of an older state of itself; refused (false) where it has been delivered. */
  update(entry: Entry): Promise<boolean>;
  list(state: "pending" | "dead" | "missed"): Promise<Entry[]>;
  /** The last night of each place that was dealt with. */
  through(placeIds: readonly string[]): Promise<Map<string, string>>;
  setThrough(nights: ReadonlyMap<string, string>): Promise<void>;
  /** One more night in a file; of the same id the last one counts. */
  addItem(file: string, item: FeedItem): Promise<void>;
  /** What a file shows: the newest `keep` nights, newest first. Older ones are forgotten. */
  items(file: string, keep: number): Promise<FeedItem[]>;
  /** Runs one at a time under this name, on all machines that share the ledger. */
  exclusively<T>(name: string, run: () => Promise<T>): Promise<T>;
  /** Forgets what was settled before an instant. */
  prune(beforeMs: number): Promise<void>;
  close(): Promise<void>;
}
