import { DomainError } from "../domain-error";

/** Which part of a day an outing takes: named, or from one instant to another [Unix ms]. */
export type Session = "evening" | "morning" | { readonly fromMs: number; readonly toMs: number };

export interface SessionSpan {
  readonly part: "evening" | "morning" | "span";
  readonly startMs: number;
  readonly endMs: number;
}

const LONGEST_SPAN_MS = 24 * 3_600_000;

/**
 * The span of an outing. An evening reaches from the sun's upper culmination to its next lower one, a morning from the lower
 * culmination before to the upper one, so that a twilight past midnight still belongs to its evening.
 * @throws DomainError for a span that is empty or longer than 24 hours
 */
export function sessionSpan(
  session: Session,
  culminations: { readonly lowerBeforeMs: number; readonly upperMs: number; readonly lowerAfterMs: number },
): SessionSpan {
  if (session === "evening")
    return { part: "evening", startMs: culminations.upperMs, endMs: culminations.lowerAfterMs };
  if (session === "morning")
    return { part: "morning", startMs: culminations.lowerBeforeMs, endMs: culminations.upperMs };
  const lengthMs = session.toMs - session.fromMs;
  if (!(lengthMs > 0 && lengthMs <= LONGEST_SPAN_MS)) {
    const allowed = "an instant after session.from, by at most 24 hours";
    throw new DomainError({
      code: "impossible",
      param: "session.to",
      given: new Date(session.toMs).toISOString(),
      allowed,
    });
  }
  return { part: "span", startMs: session.fromMs, endMs: session.toMs };
}
