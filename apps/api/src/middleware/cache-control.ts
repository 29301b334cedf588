import { localDay } from "@fieldstop/core";

/**
 * How long an answer holds.
 *
 * - `immutable`: the same for all times, for one state of the elevation data and one version of the service: an almanac day, a table. Cached for a
 *   day without asking; after that compared by its tag, so that better data reaches everyone within a day.
 * - `short`: holds for a minute, as "today" does, until midnight at the place at the latest, or a forecast that weather enters.
 * - `revalidate`: compared by its tag before each use.
 * - `no-store`: true for the moment of the request, as "now" is.
 */
export type Lifetime = "immutable" | "short" | "revalidate" | "no-store";

interface Terms {
  readonly directives: (ageSeconds: number) => string;
  readonly maxAgeSeconds: number;
  /** Whether the service may answer from its own copy. */
  readonly cached: boolean;
}

// RFC 9111, 5.2.2; immutable: RFC 8246
export const LIFETIMES: Readonly<Record<Lifetime, Terms>> = {
  immutable: { directives: (ageSeconds) => `max-age=${ageSeconds}, immutable`, maxAgeSeconds: 86_400, cached: true },
  short: { directives: (ageSeconds) => `max-age=${ageSeconds}`, maxAgeSeconds: 60, cached: true },
  revalidate: { directives: () => "no-cache", maxAgeSeconds: 0, cached: false },
  "no-store": { directives: () => "no-store", maxAgeSeconds: 0, cached: false },
};

/** A local day that an answer is about. */
export interface AnsweredDay {
  readonly date: string;
  readonly timeZone: string;
}

const given = (parameter: string): RegExp => new RegExp(`(?:^|&)${parameter}=[^&]`);
const DATE_GIVEN = given("date");

/** Immutable where the query names the day or the instant; else true for now only. */
export function immutableBy(parameter: "date" | "instant"): (query: string) => Lifetime {
  const named = given(parameter);
  return (query) => {
    if (named.test(query)) return "immutable";
    return parameter === "date" ? "short" : "no-store";
  };
}

/** The longest age of an answer [s]: that of "today" is no longer than what is left of the day at the place. */
export function maxAgeSeconds(lifetime: Lifetime, query: string, day: AnsweredDay | undefined, nowMs: number): number {
  const longest = LIFETIMES[lifetime].maxAgeSeconds;
  if (lifetime !== "short" || day === undefined || DATE_GIVEN.test(query)) return longest;
  const leftMs = localDay(day.date, day.timeZone).endMs - nowMs;
  return Math.max(0, Math.min(longest, Math.floor(leftMs / 1000)));
}

/**
 * Write `Cache-Control`. Only the caller's own cache may store an answer where callers are known by their keys.
 * @param ageSeconds the longest age [s]
 */
export function cacheControl(lifetime: Lifetime, callersAreKnown: boolean, ageSeconds: number): string {
  const directives = LIFETIMES[lifetime].directives(ageSeconds);
  if (lifetime === "no-store") return directives;
  return `${callersAreKnown ? "private" : "public"}, ${directives}`;
}

interface WithGaps {
  readonly missingTiles?: readonly { readonly reason?: string }[];
  readonly horizon?: WithGaps;
}

/** Whether an answer lacks ground that is known to exist but could not be read: it may come back, so the answer is not immutable. */
export function lacksUnreadGround(answer: unknown): boolean {
  const { missingTiles, horizon } = (answer ?? {}) as WithGaps;
  const unread = missingTiles?.some(({ reason }) => reason !== undefined && !reason.startsWith("absent"));
  return unread === true || (typeof horizon === "object" && horizon !== null && lacksUnreadGround(horizon));
}

/** The local day that an answer is about, where it says one. */
export function dayOf(answer: unknown): AnsweredDay | undefined {
  const { date, timeZone } = (answer ?? {}) as Partial<AnsweredDay>;
  return typeof date === "string" && typeof timeZone === "string" ? { date, timeZone } : undefined;
}
