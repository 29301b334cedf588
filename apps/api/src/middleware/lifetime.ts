import { localDay } from "@fieldstop/core";

/**
 * How long an answer holds.
 *
 * - `settled`: the same for all times, for one state of the elevation data and one version of the service: an almanac day, a table. Kept for a
 *   day and not asked for meanwhile; after that compared by its tag, so that better data reaches everyone within a day.
 * - `passing`: holds for a while, as "today" does, until midnight at the place at the latest, or a forecast that weather enters.
 * - `compared`: kept, but compared by its tag before each use.
 * - `momentary`: true for the moment of the request, as "now" is; never kept.
 */
export type Lifetime = "settled" | "passing" | "compared" | "momentary";

interface Terms {
  readonly directives: (ageSeconds: number) => string;
  readonly maxAgeSeconds: number;
  /** Whether the service may answer from its own copy. */
  readonly kept: boolean;
}

// RFC 9111, 5.2.2; immutable: RFC 8246
export const LIFETIMES: Readonly<Record<Lifetime, Terms>> = {
  settled: { directives: (ageSeconds) => `max-age=${ageSeconds}, immutable`, maxAgeSeconds: 86_400, kept: true },
  passing: { directives: (ageSeconds) => `max-age=${ageSeconds}`, maxAgeSeconds: 60, kept: true },
  compared: { directives: () => "no-cache", maxAgeSeconds: 0, kept: false },
  momentary: { directives: () => "no-store", maxAgeSeconds: 0, kept: false },
};

/** A local day that an answer is about. */
export interface AnsweredDay {
  readonly date: string;
  readonly timeZone: string;
}

const given = (parameter: string): RegExp => new RegExp(`(^|&)${parameter}=[^&]`);
const DATE_GIVEN = given("date");

/** Settled where the query fixes the day or the instant that it asks about; else true for now only. */
export function settledBy(parameter: "date" | "instant"): (query: string) => Lifetime {
  const fixed = given(parameter);
  return (query) => {
    if (fixed.test(query)) return "settled";
    return parameter === "date" ? "passing" : "momentary";
  };
}

/** The longest age of an answer [s]: that of "today" is no longer than what is left of the day at the place. */
export function maxAgeSeconds(lifetime: Lifetime, query: string, day: AnsweredDay | undefined, nowMs: number): number {
  const longest = LIFETIMES[lifetime].maxAgeSeconds;
  if (lifetime !== "passing" || day === undefined || DATE_GIVEN.test(query)) return longest;
  const leftMs = localDay(day.date, day.timeZone).endMs - nowMs;
  return Math.max(0, Math.min(longest, Math.floor(leftMs / 1000)));
}

/**
 * `Cache-Control` of an answer; only the caller's own cache may keep it where callers are known by their keys.
 * @param ageSeconds the longest age [s]
 */
export function cacheControl(lifetime: Lifetime, callersAreKnown: boolean, ageSeconds: number): string {
  const directives = LIFETIMES[lifetime].directives(ageSeconds);
  if (lifetime === "momentary") return directives;
  return `${callersAreKnown ? "private" : "public"}, ${directives}`;
}

interface WithGaps {
  readonly missingTiles?: readonly { readonly reason?: string }[];
  readonly horizon?: WithGaps;
}

/** Whether an answer lacks ground that is known to be there but could not be read: it may come back, so such an answer is not settled. */
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
