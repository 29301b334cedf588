/**
 * How long an answer holds.
 *
 * - `settled`: the same for all times, for one state of the elevation data and one version of the service: an almanac day, a table. Kept for a
 *   day and not asked for meanwhile; after that compared by its tag, so that better data reaches everyone within a day.
 * - `passing`: holds for a while, as "today" does, or a forecast that weather enters.
 * - `compared`: kept, but compared by its tag before each use.
 * - `momentary`: true for the moment of the request, as "now" is; never kept.
 */
export type Lifetime = "settled" | "passing" | "compared" | "momentary";

interface Terms {
  readonly directives: string;
  readonly maxAgeSeconds: number;
  /** Whether the service may answer from its own copy. */
  readonly kept: boolean;
}

// RFC 9111, 5.2.2; immutable: RFC 8246
export const LIFETIMES: Readonly<Record<Lifetime, Terms>> = {
  settled: { directives: "max-age=86400, immutable", maxAgeSeconds: 86_400, kept: true },
  passing: { directives: "max-age=60", maxAgeSeconds: 60, kept: true },
  compared: { directives: "no-cache", maxAgeSeconds: 0, kept: false },
  momentary: { directives: "no-store", maxAgeSeconds: 0, kept: false },
};

/** Settled where the query fixes the day or the instant that it asks about; else true for now only. */
export function settledBy(parameter: "date" | "instant"): (query: string) => Lifetime {
  const given = new RegExp(`(^|&)${parameter}=[^&]`);
  return (query) => {
    if (given.test(query)) return "settled";
    return parameter === "date" ? "passing" : "momentary";
  };
}

/** `Cache-Control` of an answer; only the caller's own cache may keep it where callers are known by their keys. */
export function cacheControl(lifetime: Lifetime, callersAreKnown: boolean): string {
  if (lifetime === "momentary") return LIFETIMES.momentary.directives;
  return `${callersAreKnown ? "private" : "public"}, ${LIFETIMES[lifetime].directives}`;
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
