import { LRUCache } from "lru-cache";
import type { Answer } from "./answer";
import { cacheControl, LIFETIMES, type Lifetime, maxAgeSeconds } from "./cache-control";
import { CachedResponse } from "./cached-response";
import { compressed } from "./compression";
import { fingerprint } from "./etag";
import type { PolicySettings } from "./policy-settings";
import type { RequestContext } from "./request-context";
import { headersForAll } from "./respond";

/** Elevation data and the present, which decide whether an answer still holds. */
export interface CacheSources {
  /** Changes when the elevation data do: nothing older is answered then. */
  readonly dataVersion: () => string;
  readonly nowMs: () => number;
}

const DEFAULT_CACHE_BYTES = 64_000_000;
/** One answer must not push out all others. */
const LARGEST_SHARE = 1 / 8;
const VERSION_CHECK_MS = 1000;

/**
 * Answers to GET that hold for a while, by the request as it came, byte for byte: the query is neither parsed nor sorted, so that an answer found here
 * costs next to nothing. Bounded in bytes; the least recently used goes first.
 */
export class ResponseCache {
  readonly #settings: PolicySettings;
  readonly #sources: CacheSources;
  readonly #entries: LRUCache<string, CachedResponse> | undefined;
  #dataVersion = "";
  #checkedAtMs = Number.NEGATIVE_INFINITY;

  constructor(settings: PolicySettings, sources: CacheSources) {
    this.#settings = settings;
    this.#sources = sources;
    const maxBytes = settings.responseCacheBytes ?? DEFAULT_CACHE_BYTES;
    if (maxBytes === 0) return;
    this.#entries = new LRUCache({
      maxSize: maxBytes,
      maxEntrySize: Math.max(1, Math.floor(maxBytes * LARGEST_SHARE)),
      sizeCalculation: (entry, key) => entry.sizeBytes + 2 * key.length,
    });
  }

  get bytes(): number {
    return this.#entries?.calculatedSize ?? 0;
  }

  /** Answer a GET: from the cache where it holds the answer, else by computing it, with its tag and lifetime. */
  async answer(context: RequestContext, compute: () => Promise<Answer>): Promise<Answer> {
    const { compress, metrics } = this.#settings;
    const key = keyOf(context);
    const found = this.#find(key);
    if (found !== undefined) {
      metrics?.cacheLookedUp(true);
      context.near = found.near;
      const age = found.ageSeconds(this.#sources.nowMs());
      if (age > 0) context.headers["age"] = String(age);
      return found.answerTo(context, compress);
    }
    const dataVersion = this.#currentVersion();
    const answer = await compute();
    const lifetime = lifetimeOf(context, answer);
    const ageSeconds = maxAgeSeconds(lifetime, context.query, answer.day, this.#sources.nowMs());
    const headers = {
      ...answer.headers,
      "cache-control": cacheControl(lifetime, this.#settings.apiKeys !== undefined, ageSeconds),
    };
    if (lifetime === "no-store") return compressed(context, { ...answer, headers }, compress);
    // no GET streams
    const body = answer.body as string | Uint8Array<ArrayBuffer>;
    const parts = {
      body,
      hash: fingerprint(body),
      maxAgeSeconds: ageSeconds,
      headers: headersForAll(context, headers, this.#settings),
      near: context.near,
    };
    const entry = new CachedResponse(parts, dataVersion, this.#sources.nowMs());
    if (LIFETIMES[lifetime].cached && this.#entries !== undefined) {
      metrics?.cacheLookedUp(false);
      this.#entries.set(key, entry);
    }
    return entry.answerTo(context, compress);
  }

  #find(key: string): CachedResponse | undefined {
    const entry = this.#entries?.get(key);
    if (entry === undefined) return undefined;
    if (entry.dataVersion === this.#currentVersion() && entry.holdsAt(this.#sources.nowMs())) return entry;
    this.#entries?.delete(key);
    return undefined;
  }

  /** Version of the elevation data, at most a second old. */
  #currentVersion(): string {
    const nowMs = performance.now();
    if (nowMs - this.#checkedAtMs > VERSION_CHECK_MS) {
      this.#dataVersion = this.#sources.dataVersion();
      this.#checkedAtMs = nowMs;
    }
    return this.#dataVersion;
  }
}

/** The request as it came: the wanted type and the raw target. */
function keyOf({ request, target }: RequestContext): string {
  const accept = request.headers.get("accept");
  return accept === null || accept === "*/*" ? target : `${accept}\n${target}`;
}

function lifetimeOf({ policy: { lifetime }, query }: RequestContext, { status, short }: Answer): Lifetime {
  if (status !== 200) return "no-store";
  if (lifetime === undefined) return "revalidate";
  const declared = typeof lifetime === "function" ? lifetime(query) : lifetime;
  return declared === "immutable" && short === true ? "short" : declared;
}
