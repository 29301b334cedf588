import { DomainError } from "../domain-error";
import { type LightCurve, lightGathered } from "../exposure/light-curve";
import { lightNeeded } from "../exposure/light-needed";
import { momentsOf, type ShutterMoments } from "../exposure/shutter-moments";

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
  readonly shortest: number;
  readonly longest: number;
  /** The one aimed at, where there is one. */
  readonly target?: number;
}

/**
 * When, as the light goes, the right shutter time behind an attenuation lies in a range; the light changes while the shutter is open.
 * What the light gives over each of the times is reckoned once for all attenuations.
 * @param light how the light goes; starts that come within a time of its end cannot be judged for that time and are left out
 * @param settings aperture and ISO as typed
 * @param wanted times [s]
 * @returns a function of the attenuation [stops], 0 to 40
 * @throws DomainError for an aperture or ISO out of range; `impossible` where the light is not known for as long as the time aimed at
 * Source: ∫ L dt = H (ISO 2720:1974 for the level). Accuracy: edges to 1 ms on the curve as given; held by round trips in
 * tests/core/filters/reach.spec.ts.
 * @example reachFinder(light, { aperture: 11, iso: 100 }, { shortest: 20, longest: 45 })(6).windows
 */
export function reachFinder(
  light: LightCurve,
  settings: { readonly aperture: number; readonly iso: number },
  wanted: WantedTimes,
): (attenuationStops: number) => ReachedOverTime {
  const { shortest, longest, target } = wanted;
  if (target !== undefined && !(light.endMs - target * 1000 >= light.startMs)) {
    const allowed = `at most the ${(light.endMs - light.startMs) / 1000} s for which the light is known`;
    throw new DomainError({ code: "impossible", param: "wantedShutterSeconds", given: target, allowed, unit: "s" });
  }
  const inShortest = gatheredIn(light, shortest);
  const inLongest = gatheredIn(light, longest);
  const inTarget = target === undefined ? undefined : gatheredIn(light, target);

  return (attenuationStops) => {
    const needed = Math.log2(lightNeeded({ ...settings, attenuationStops }));
    const windows = windowsOf(light.startMs, inShortest, inLongest, needed);
    if (inTarget === undefined) return { windows };
    const surplus = (atMs: number): number => inTarget.stopsAt(atMs) - needed;
    return { moments: momentsOf(surplus, light.startMs, inTarget.lastMs), windows };
  };
}

/** What a shutter gathers that is open for a fixed time. */
interface Gathered {
  /** The last start for which the light is known until the shutter closes [Unix ms]. */
  readonly lastMs: number;
  /** [stops of EV100 0 for a second] */
  readonly stopsAt: (startMs: number) => number;
}

function gatheredIn(light: LightCurve, seconds: number): Gathered {
  const lastMs = light.endMs - seconds * 1000;
  // crossings are looked for at the same instants for each attenuation
  const known = new Map<number, number>();
  const stopsAt = (startMs: number): number => {
    let stops = known.get(startMs);
    if (stops === undefined) {
      stops = Math.log2(lightGathered(light, Math.min(startMs, lastMs), seconds));
      known.set(startMs, stops);
    }
    return stops;
  };
  return { lastMs, stopsAt };
}

function windowsOf(fromMs: number, inShortest: Gathered, inLongest: Gathered, needed: number): ReachWindow[] {
  // what lies within the longest time of the end cannot be judged
  const lastMs = inLongest.lastMs;
  if (!(lastMs > fromMs)) return [];
  const edges = [fromMs, lastMs];
  for (const { stopsAt } of [inShortest, inLongest]) {
    const moments = momentsOf((atMs) => stopsAt(atMs) - needed, fromMs, lastMs);
    if (moments.kind === "crosses") edges.push(...moments.moments.map(({ startMs }) => startMs));
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
