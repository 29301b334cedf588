import { DomainError } from "../domain-error";

export interface SessionSpan {
  readonly part: "evening" | "morning" | "span";
  readonly startMs: number;
  readonly endMs: number;
}

const LONGEST_SPAN_MS = 24 * 3_600_000;

/**
 * Find the span of a named session. An evening reaches from the sun's upper culmination to its next lower one, a morning from the lower
 * culmination before to the upper one, so that a twilight past midnight still belongs to its evening.
 */
export function namedSpan(
  session: "evening" | "morning",
  culminations: { readonly lowerBeforeMs: number; readonly upperMs: number; readonly lowerAfterMs: number },
): SessionSpan {
  const { lowerBeforeMs, upperMs, lowerAfterMs } = culminations;
  return session === "evening"
    ? { part: "evening", startMs: upperMs, endMs: lowerAfterMs }
    : { part: "morning", startMs: lowerBeforeMs, endMs: upperMs };
}

/**
 * Make the span between two instants [Unix ms].
 * @throws DomainError for a span that is empty or longer than 24 hours
 */
export function givenSpan(fromMs: number, toMs: number): SessionSpan {
  const lengthMs = toMs - fromMs;
  if (!(lengthMs > 0 && lengthMs <= LONGEST_SPAN_MS)) {
    const allowed = "an instant after session.from, by at most 24 hours";
    throw new DomainError({ code: "impossible", param: "session.to", given: new Date(toMs).toISOString(), allowed });
  }
  return { part: "span", startMs: fromMs, endMs: toMs };
}
