import { DomainError } from "../domain-error";
import type { LightCurve } from "../exposure/light-curve";
import { lightNeeded } from "../exposure/light-needed";
import { LightSums } from "../exposure/light-sums";
import type { ShutterMoment, ShutterMoments } from "../exposure/shutter-moments";
import { findCrossings } from "../roots";

/** A stretch of time in which the right shutter time lies in the range that is wanted. */
export interface ReachWindow {
  /** [Unix ms] */
  readonly startMs: number;
  /** [Unix ms] */
  readonly endMs: number;
}

/** When an attenuation brings about what is wanted. */
export interface ReachedOverTime {
  /** When the time aimed at is exactly right; present where there is one. */
  readonly moments?: ShutterMoments;
  /** In order of time; none where the light is always too strong or too weak. */
  readonly windows: readonly ReachWindow[];
}

/** Exact times, not marks [s]. */
export interface WantedTimes {
  readonly min: number;
  readonly max: number;
  /** The one aimed at, where there is one. */
  readonly target?: number;
}

/**
 * Make a function that finds when, as the light goes, the right shutter time behind an attenuation lies in a range; the light changes while the shutter is open.
 * What the light gives over each of the times is reckoned once for all attenuations.
 * @param light how the light goes; starts that come within a time of its end cannot be judged for that time and are left out
 * @param settings aperture and ISO as typed
 * @param wanted times [s]
 * @returns a function of the attenuation [stops], 0 to 40
 * @throws DomainError for an aperture or ISO out of range; `impossible` where the light is not known for as long as the time aimed at
 * Source: ∫ L dt = H (ISO 2720:1974 for the level). Accuracy: edges to 1 ms on the curve as given; held by round trips in
 * tests/core/filters/reach.spec.ts.
 * @example reachFinder(light, { aperture: 11, iso: 100 }, { min: 20, max: 45 })(6).windows
 */
export function reachFinder(
  light: LightCurve,
  settings: { readonly aperture: number; readonly iso: number },
  wanted: WantedTimes,
): (attenuationStops: number) => ReachedOverTime {
  const { min, max, target } = wanted;
  if (target !== undefined && !(light.endMs - target * 1000 >= light.startMs)) {
    const allowed = `at most the ${(light.endMs - light.startMs) / 1000} s for which the light is known`;
    throw new DomainError({ code: "impossible", param: "wantedShutterSeconds", given: target, allowed, unit: "s" });
  }
  const lastMs = light.endMs - max * 1000;
  const sums = new LightSums(light);
  // what lies within the longest time of the end cannot be judged for the range
  const inShortest = gatheredIn(sums, min, lastMs);
  const inLongest = gatheredIn(sums, max, lastMs);
  const inTarget = target === undefined ? undefined : gatheredIn(sums, target, light.endMs - target * 1000);

  return (attenuationStops) => {
    const needed = Math.log2(lightNeeded(Object.assign({}, settings, { attenuationStops })));
    const windows = lastMs > light.startMs ? windowsOf(inShortest, inLongest, needed) : [];
    return inTarget === undefined ? { windows } : { moments: momentsIn(inTarget, needed), windows };
  };
}

/** What a shutter gathers that is open for a fixed time, for starts within a span. */
interface Gathered {
  /** [stops of EV100 0 for a second] */
  readonly stopsAt: (startMs: number) => number;
  /** Evenly spaced over the span, ends included [Unix ms]. */
  readonly gridMs: readonly number[];
  readonly gridStops: readonly number[];
}

// Light changes little in a minute; what a shutter gathers changes still more slowly while the shutter is open for long
const GRID_MS = 60_000;
const GRIDS_PER_SHUTTER = 8;

function gatheredIn(light: LightSums, seconds: number, lastMs: number): Gathered {
  const stopsAt = (startMs: number): number => Math.log2(light.gathered(Math.min(startMs, lastMs), seconds));
  const { startMs } = light.curve;
  if (!(lastMs >= startMs)) return { stopsAt, gridMs: [], gridStops: [] };
  const gridStep = Math.max(GRID_MS, (seconds * 1000) / GRIDS_PER_SHUTTER);
  const count = Math.max(64, Math.ceil((lastMs - startMs) / gridStep));
  const gridMs = Array.from({ length: count + 1 }, (_, i) =>
    i === count ? lastMs : startMs + ((lastMs - startMs) * i) / count,
  );
  return { stopsAt, gridMs, gridStops: gridMs.map(stopsAt) };
}

function momentsIn(gathered: Gathered, needed: number): ShutterMoments {
  const moments = crossingsIn(gathered, needed);
  if (moments.length > 0) return { kind: "crosses", moments };
  return (gathered.gridStops[0] as number) > needed ? { kind: "always-shorter" } : { kind: "always-longer" };
}

/** Where a time gives just what is needed. Only where the grid comes near is looked at closely. */
function crossingsIn({ stopsAt, gridMs, gridStops }: Gathered, needed: number): ShutterMoment[] {
  const surplus = (atMs: number): number => stopsAt(atMs) - needed;
  const moments: ShutterMoment[] = [];
  const last = gridMs.length - 1;
  let from = -1;
  for (let i = 0; i <= last; i++) {
    const near = i < last && mayReach(gridStops, i, needed);
    if (near && from < 0) from = i;
    if (near || from < 0) continue;
    const fromMs = gridMs[Math.max(0, from - 1)] as number;
    const toMs = gridMs[Math.min(last, i + 1)] as number;
    const step = (gridMs[1] as number) - (gridMs[0] as number);
    for (const { x, direction } of findCrossings(surplus, fromMs, toMs, step, 1)) {
      moments.push({ startMs: x, direction: direction === "rising" ? "growing" : "fading" });
    }
    from = -1;
  }
  return moments;
}

/** Whether a curve may come to a level between two samples: it goes on no farther than it went in the intervals beside. */
function mayReach(stops: readonly number[], i: number, level: number): boolean {
  const left = stops[i] as number;
  const right = stops[i + 1] as number;
  const before = stops[i - 1] ?? left;
  const after = stops[i + 2] ?? right;
  const reach = Math.max(Math.abs(left - before), Math.abs(right - left), Math.abs(after - right));
  return level >= Math.min(left, right) - reach && level <= Math.max(left, right) + reach;
}

function windowsOf(inShortest: Gathered, inLongest: Gathered, needed: number): ReachWindow[] {
  const edges = [inLongest.gridMs[0] as number, inLongest.gridMs.at(-1) as number];
  for (const gathered of [inShortest, inLongest]) {
    edges.push(...crossingsIn(gathered, needed).map(({ startMs }) => startMs));
  }
  edges.sort((a, b) => a - b);
  const windows: { startMs: number; endMs: number }[] = [];
  for (let i = 1; i < edges.length; i++) {
    const startMs = edges[i - 1] as number;
    const endMs = edges[i] as number;
    const middle = (startMs + endMs) / 2;
    if (!(endMs > startMs && inLongest.stopsAt(middle) >= needed && inShortest.stopsAt(middle) <= needed)) continue;
    const before = windows.at(-1);
    if (before !== undefined && before.endMs === startMs) before.endMs = endMs;
    else windows.push({ startMs, endMs });
  }
  return windows;
}
