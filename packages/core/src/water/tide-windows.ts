import { DomainError, requireInRange } from "../domain-error";
import { findCrossings } from "../roots";
import { type TideCurve, tideHeightAt } from "./tide";

/** A stretch in which the water stands over a level, or under it. */
export interface TideWindow {
  readonly water: "under" | "over";
  /** [Unix ms] */
  readonly startMs: number;
  /** [Unix ms] */
  readonly endMs: number;
}

/** A stretch of light, whatever else is known of it. */
export interface LightStretch {
  readonly startMs: number;
  readonly endMs: number;
}

const TOLERANCE_MS = 500;

/**
 * Find when the water is under a level and when over it: when a strand is bare, a causeway passable, a rock awash.
 * @param curve heights of the water, which cover the span
 * @param levelM the level above the curve's datum [m], -30 to 30
 * @param startMs from [Unix ms]
 * @param endMs to [Unix ms], after the start
 * @returns windows that alternate and together fill the span; the first and the last are cut by its ends
 * @throws DomainError for a level out of range, or a span that is empty or leaves the curve
 * Accuracy: within a second of where the curve passes the level; held in tests/core/water/tide-windows.spec.ts. The prediction's own error
 * is larger by far: near high and low water a few centimetres are many minutes.
 * @example tideWindows({ startMs: 0, stepMs: 600_000, heightsM: [1, 1.1, 1.2, 1.3] }, 1.15, 0, 1_800_000)
 * // under from 0 to 900000, over from 900000 to 1800000
 */
export function tideWindows(curve: TideCurve, levelM: number, startMs: number, endMs: number): TideWindow[] {
  requireInRange("levelM", levelM, -30, 30, "m");
  if (!(endMs > startMs)) throw new DomainError({ param: "endMs", given: endMs, allowed: "an instant after startMs" });
  const over = (ms: number): number => tideHeightAt(curve, ms) - levelM;
  const edges = findCrossings(over, startMs, endMs, curve.stepMs, TOLERANCE_MS).map(({ x }) => x);
  const bounds = [startMs, ...edges, endMs];
  const windows: TideWindow[] = [];
  for (let i = 1; i < bounds.length; i++) {
    const from = bounds[i - 1] as number;
    const to = bounds[i] as number;
    if (!(to > from)) continue;
    const water = over((from + to) / 2) > 0 ? "over" : "under";
    const last = windows.at(-1);
    if (last?.water === water) windows[windows.length - 1] = { ...last, endMs: to };
    else windows.push({ water, startMs: from, endMs: to });
  }
  return windows;
}

/**
 * Cut out the parts of stretches of light that fall into a window of the tide, each with what is known of the light, in the order given.
 * @example lightInTideWindow({ water: "under", startMs: 0, endMs: 10 }, [{ kind: "golden-hour", startMs: 6, endMs: 14 }])
 * // [{ kind: "golden-hour", startMs: 6, endMs: 10 }]
 */
export function lightInTideWindow<Light extends LightStretch>(window: TideWindow, light: readonly Light[]): Light[] {
  return light
    .map((stretch) => ({
      ...stretch,
      startMs: Math.max(window.startMs, stretch.startMs),
      endMs: Math.min(window.endMs, stretch.endMs),
    }))
    .filter(({ startMs, endMs }) => endMs > startMs);
}
