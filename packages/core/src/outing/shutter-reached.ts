import type { LongExposures, OverGround } from "./long-exposures";

interface Known {
  readonly instantMs: number;
  readonly over: OverGround;
}

const STEP_MS = 60_000;
const TO_SECOND_MS = 1000;

/**
 * When, between moments whose exposure is known, a wanted shutter time first comes about [Unix ms]: as the light fades.
 * Undefined where it is met at the first moment already, within a minute of another, or never.
 * Between moments the exposure against the ground is taken along straight lines.
 */
export function firstReached(known: readonly Known[], long: LongExposures): number | undefined {
  const meets = (ms: number): boolean => long.meetsAt(ms, between(known, ms));
  const first = known[0]?.instantMs;
  const last = known.at(-1)?.instantMs;
  if (first === undefined || last === undefined || meets(first)) return undefined;
  for (let ms = first + STEP_MS; ms < last; ms += STEP_MS) {
    if (!meets(ms)) continue;
    const metMs = refined(ms - STEP_MS, ms, meets);
    // a moment that is named already tells it
    return known.some(({ instantMs }) => Math.abs(instantMs - metMs) < STEP_MS) ? undefined : metMs;
  }
  return undefined;
}

/** The first second at which it is met. */
function refined(beforeMs: number, metMs: number, meets: (ms: number) => boolean): number {
  let low = beforeMs;
  let high = metMs;
  while (high - low > TO_SECOND_MS) {
    const middle = (low + high) / 2;
    if (meets(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function between(known: readonly Known[], ms: number): OverGround {
  const next = known.findIndex(({ instantMs }) => instantMs >= ms);
  const b = known[next === -1 ? known.length - 1 : next] as Known;
  const a = known[Math.max(0, (next === -1 ? known.length : next) - 1)] as Known;
  const share = b.instantMs === a.instantMs ? 0 : (ms - a.instantMs) / (b.instantMs - a.instantMs);
  return {
    brightest: a.over.brightest + share * (b.over.brightest - a.over.brightest),
    chosen: a.over.chosen + share * (b.over.chosen - a.over.chosen),
    polarizerHelps: b.over.polarizerHelps,
  };
}
