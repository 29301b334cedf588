import { LRUCache } from "lru-cache";
import pLimit from "p-limit";
import { Backoff, retryAfterMs } from "./backoff";
import { freshUntilMs } from "./freshness";
import { hourAt } from "./hour-at";
import { readLimited } from "./read-limited";
import type { WeatherProvider, WeatherSeries } from "./weather-provider";
import type { WeatherSource } from "./weather-source";

export interface FetchedWeatherOptions {
  readonly provider: WeatherProvider;
  /** Where the provider is, without a slash at the end; default: its own address. */
  readonly baseUrl?: string | undefined;
  /** Who asks, with a way to reach them. */
  readonly userAgent: string;
  readonly nowMs: () => number;
  /** Told when the provider is away, or says that it will be. */
  readonly warn: (message: string) => void;
  /** Longest time for an answer [ms]; default 5000. */
  readonly timeoutMs?: number;
  /** Most places that are kept; default 2000. */
  readonly mostPlaces?: number;
}

interface Kept {
  readonly series: WeatherSeries;
  readonly lastModified: string | null;
  readonly freshUntilMs: number;
}

const MOST_BYTES = 2_000_000;
const AT_ONCE = 4;
/** An answer this old is of no use to an evening's forecast any more [ms] */
const LONGEST_STALE_MS = 24 * 3_600_000;

/**
 * Weather from a provider over HTTP, asked as its terms want it: the caller is named, coordinates have four decimals, an answer is kept until it expires
 * and then asked for only if it changed, and a provider that fails is left alone for a while. While it is away a kept answer stands in, marked as stale.
 */
export function fetchedWeather(options: FetchedWeatherOptions): WeatherSource {
  const { provider, baseUrl = provider.baseUrl, userAgent, nowMs, warn, timeoutMs = 5000, mostPlaces = 2000 } = options;
  const kept = new LRUCache<string, Kept>({ max: mostPlaces });
  const underWay = new Map<string, Promise<Kept | undefined>>();
  const backoff = new Backoff();
  const oneOfFew = pLimit(AT_ONCE);

  const fetchPlace = async (path: string, old: Kept | undefined): Promise<Kept | undefined> => {
    if (!backoff.isOver(nowMs())) return undefined;
    try {
      const response = await fetch(`${baseUrl}${path}`, {
        headers: {
          Accept: "application/json",
          "User-Agent": userAgent,
          ...(old?.lastModified && { "If-Modified-Since": old.lastModified }),
        },
        signal: AbortSignal.timeout(timeoutMs),
      });
      const text = await readLimited(response, MOST_BYTES);
      if (response.status === 304 && old !== undefined) {
        backoff.succeeded();
        return { ...old, freshUntilMs: freshUntilMs(response.headers, nowMs()) };
      }
      // 203: the answer stands, but this version of the service will go (MET Norway's terms)
      if (response.status === 203) warn(`${provider.name} says that this form of its service will end`);
      else if (response.status !== 200) {
        backoff.failed(nowMs(), retryAfterMs(response.headers.get("Retry-After"), nowMs()));
        warn(`${provider.name} answered with status ${response.status}`);
        return undefined;
      }
      const series = provider.read(JSON.parse(text));
      backoff.succeeded();
      const lastModified = response.headers.get("Last-Modified");
      return { series, lastModified, freshUntilMs: freshUntilMs(response.headers, nowMs()) };
    } catch (error) {
      backoff.failed(nowMs());
      warn(`${provider.name} cannot be asked: ${reasonOf(error)}`);
      return undefined;
    }
  };

  const fetchOnce = (path: string, old: Kept | undefined): Promise<Kept | undefined> => {
    const known = underWay.get(path);
    if (known !== undefined) return known;
    const fetched = oneOfFew(() => fetchPlace(path, old)).finally(() => underWay.delete(path));
    underWay.set(path, fetched);
    return fetched;
  };

  return {
    async at(latitude, longitude, instantMs) {
      const path = provider.pathFor(fourDecimals(latitude), fourDecimals(longitude));
      const old = kept.get(path);
      let found = old;
      let stale = false;
      if (old === undefined || old.freshUntilMs <= nowMs()) {
        const fresh = await fetchOnce(path, old);
        if (fresh !== undefined) kept.set(path, fresh);
        const usable = old !== undefined && nowMs() - old.freshUntilMs < LONGEST_STALE_MS;
        found = fresh ?? (usable ? old : undefined);
        stale = fresh === undefined;
      }
      if (found === undefined) return { why: "away" };
      const hour = hourAt(found.series, instantMs);
      if (hour === undefined) return { why: "beyond-range" };
      const { instantMs: validForMs, ...reading } = hour;
      const { name, attribution, licenceUrl } = provider;
      const { issuedMs } = found.series;
      return { provider: name, attribution, licenceUrl, issuedMs, validForMs, ...reading, stale };
    },
  };
}

/** Cut, not rounded, as MET Norway's terms ask; that also makes neighbours share an answer. */
function fourDecimals(degrees: number): string {
  return (Math.trunc(degrees * 1e4) / 1e4).toFixed(4).replace(/^-(0\.0+)$/, "$1");
}

function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return "an unknown reason";
  // the answer of a server that speaks another form is none of a log's business
  return error.name === "ZodError" || error instanceof SyntaxError ? "its answer has another form" : error.message;
}
