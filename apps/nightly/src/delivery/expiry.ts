import type { Message } from "../forecast/message";

/** What somebody asked for by hand is worth sending for so long, whatever night it is about [ms]. */
const ASKED_FOR_MS = 6 * 3_600_000;

/** When a delivery is of no use any more: once the light that it tells of has gone, or the night is over. */
export function expiresMs({ stayUntil }: Message, overMs: number | undefined, nowMs: number): number {
  const goneMs = Date.parse(stayUntil);
  return overMs === undefined ? Math.max(goneMs, requestedUntilMs(nowMs)) : Math.min(goneMs, overMs);
}

export function requestedUntilMs(nowMs: number): number {
  return nowMs + ASKED_FOR_MS;
}
