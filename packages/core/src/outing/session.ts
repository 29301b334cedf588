import { lowerTransits, upperTransits } from "../almanac/culminations";
import { sunriseAltitudeDeg } from "../almanac/rise-set";
import { DomainError } from "../domain-error";
import { type LocalDay, parseInstant } from "../instants";
import type { Observer } from "../sky/horizontal";
import { sunTrack } from "../sky/track";

/** A session as it is asked for: named, or between RFC 3339 instants at most 24 hours apart. */
export type SessionInput = "evening" | "morning" | { readonly from: string; readonly to: string };

/** What an evening or a morning turns out to be: where the sun does not set, the stretch round its lowest point; where it does not rise, round its highest. */
export type SessionPart = "evening" | "morning" | "midnight-sun" | "polar-night" | "span";

export interface SessionSpan {
  readonly part: SessionPart;
  readonly startMs: number;
  readonly endMs: number;
}

const HOUR_MS = 3_600_000;
const LONGEST_SPAN_MS = 24 * HOUR_MS;

/**
 * Find the span of a session on a local day, by the sun's transits nearest to the middle of that day. An evening reaches from the sun's upper
 * culmination to its next lower one, a morning from the lower culmination before to the upper one, so that a twilight past midnight still belongs to its
 * evening. Under a midnight sun both are the day round the lowest sun; in polar night both are the day round the highest.
 * @param eyeHeightM of the eye over the ground [m], for the dip
 * @throws DomainError for a span that is empty or longer than 24 hours
 */
export function spanOf(session: SessionInput, day: LocalDay, observer: Observer, eyeHeightM: number): SessionSpan {
  if (typeof session !== "string") {
    return givenSpan(parseInstant(session.from, "session.from"), parseInstant(session.to, "session.to"));
  }
  const middleMs = (day.startMs + day.endMs) / 2;
  const sun = sunTrack(middleMs - 30 * HOUR_MS, middleMs + 30 * HOUR_MS, observer);
  const upperMs = nearest(upperTransits(sun, middleMs - 14 * HOUR_MS, middleMs + 14 * HOUR_MS), middleMs);
  const lowerBeforeMs = nearest(
    lowerTransits(sun, upperMs - 14 * HOUR_MS, upperMs - 10 * HOUR_MS),
    upperMs - 12 * HOUR_MS,
  );
  const lowerAfterMs = nearest(
    lowerTransits(sun, upperMs + 10 * HOUR_MS, upperMs + 14 * HOUR_MS),
    upperMs + 12 * HOUR_MS,
  );
  const risesAtDeg = sunriseAltitudeDeg(eyeHeightM);
  if (sun(upperMs).trueAltitudeDeg < risesAtDeg) {
    return { part: "polar-night", startMs: lowerBeforeMs, endMs: lowerAfterMs };
  }
  const lowestMs = session === "evening" ? lowerAfterMs : lowerBeforeMs;
  if (sun(lowestMs).trueAltitudeDeg > risesAtDeg) {
    return { part: "midnight-sun", startMs: lowestMs - 12 * HOUR_MS, endMs: lowestMs + 12 * HOUR_MS };
  }
  return session === "evening"
    ? { part: "evening", startMs: upperMs, endMs: lowerAfterMs }
    : { part: "morning", startMs: lowerBeforeMs, endMs: upperMs };
}

/** The local day that a session given by its instants begins on. */
export function dateOfSession(session: SessionInput, dateAt: (instantMs: number) => string): string | undefined {
  return typeof session === "string" ? undefined : dateAt(parseInstant(session.from, "session.from"));
}

function givenSpan(fromMs: number, toMs: number): SessionSpan {
  const lengthMs = toMs - fromMs;
  if (!(lengthMs > 0 && lengthMs <= LONGEST_SPAN_MS)) {
    const allowed = "an instant after session.from, by at most 24 hours";
    throw new DomainError({ code: "impossible", param: "session.to", given: new Date(toMs).toISOString(), allowed });
  }
  return { part: "span", startMs: fromMs, endMs: toMs };
}

/** The nearest of some instants, or the wanted one itself near the poles, where a transit may hide. */
function nearest(instantsMs: readonly number[], wantedMs: number): number {
  return [...instantsMs].sort((a, b) => Math.abs(a - wantedMs) - Math.abs(b - wantedMs))[0] ?? wantedMs;
}
