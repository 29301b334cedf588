import { LRUCache } from "lru-cache";
import { KeptAnswer, type KeptParts } from "./kept-answer";

export interface ResponseCacheSettings {
  readonly maxBytes: number;
  /** Changes when the elevation data do: nothing older is answered then. */
  readonly dataVersion: () => string;
  readonly nowMs: () => number;
}

/** One answer must not push out all others. */
const LARGEST_SHARE = 1 / 8;
const VERSION_LOOKED_AT_EACH_MS = 1000;

/**
 * Answers that hold for a while, by what was asked, byte for byte: the query is neither parsed nor sorted, so that an answer found here costs next
 * to nothing. Bounded in bytes; the longest unused goes first.
 */
export class ResponseCache {
  readonly #settings: ResponseCacheSettings;
  readonly #entries: LRUCache<string, KeptAnswer>;
  #dataVersion = "";
  #lookedAtMs = Number.NEGATIVE_INFINITY;

  constructor(settings: ResponseCacheSettings) {
    this.#settings = settings;
    this.#entries = new LRUCache({
      maxSize: settings.maxBytes,
      maxEntrySize: Math.max(1, Math.floor(settings.maxBytes * LARGEST_SHARE)),
      sizeCalculation: (entry, key) => entry.sizeBytes + 2 * key.length,
    });
  }

  find(key: string): KeptAnswer | undefined {
    const entry = this.#entries.get(key);
    if (entry === undefined) return undefined;
    if (entry.dataVersion === this.dataVersion && entry.holdsAt(this.#settings.nowMs())) return entry;
    this.#entries.delete(key);
    return undefined;
  }

  /** @param dataVersion of the elevation data as they were before the answer was made */
  keep(key: string, parts: KeptParts, dataVersion: string): KeptAnswer {
    const entry = new KeptAnswer(parts, dataVersion, this.#settings.nowMs());
    this.#entries.set(key, entry);
    return entry;
  }

  /** Of the elevation data, at most a second old. */
  get dataVersion(): string {
    const nowMs = performance.now();
    if (nowMs - this.#lookedAtMs > VERSION_LOOKED_AT_EACH_MS) {
      this.#dataVersion = this.#settings.dataVersion();
      this.#lookedAtMs = nowMs;
    }
    return this.#dataVersion;
  }

  get bytes(): number {
    return this.#entries.calculatedSize;
  }
}
