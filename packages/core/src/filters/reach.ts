import { type LightCurve, lightGathered } from "../exposure/light-curve";
import { readAperture, readIso } from "../exposure/settings";
import { findCrossings } from "../roots";

/** A stretch of time in which the right shutter time lies in the range that is wanted. */
export interface ReachWindow {
  /** [Unix ms] */
  readonly startMs: number;
  /** [Unix ms] */
  readonly endMs: number;
}

/** Exact times, not marks [s]. */
export interface WantedRange {
  readonly shortest: number;
  readonly longest: number;
}

/**
 * When, as the light goes, the right shutter time behind an attenuation lies in a range; the light changes while the shutter is open.
 * @param light how the light goes; starts that come within the longest time of its end cannot be judged and are left out
 * @param settings aperture and ISO as typed, attenuation [stops]
 * @param wanted range [s]
 * @returns stretches in order; none where the light is always too strong or too weak
 * Source: ∫ L dt = H (ISO 2720:1974 for the level). Accuracy: edges to 1 ms on the curve as given; held by round trips in
 * tests/core/filters/reach.spec.ts.
 */
export function reachWindows(
  light: LightCurve,
  settings: { readonly aperture: number; readonly iso: number; readonly attenuationStops: number },
  wanted: WantedRange,
): ReachWindow[] {
  const aperture = readAperture(settings.aperture).exact;
  // seconds of EV100 0 that expose correctly: N²·100/S·2^attenuation
  const needed = ((aperture * aperture * 100) / readIso(settings.iso).exact) * 2 ** settings.attenuationStops;
  const lastMs = light.endMs - wanted.longest * 1000;
  if (!(lastMs > light.startMs)) return [];
  const surplusOf =
    (seconds: number) =>
    (atMs: number): number =>
      Math.log2(lightGathered(light, Math.min(atMs, lastMs), seconds) / needed);
  const gatheredInLongest = surplusOf(wanted.longest);
  const gatheredInShortest = surplusOf(wanted.shortest);

  const step = Math.max(1, Math.min(60_000, (lastMs - light.startMs) / 64));
  const crossings = [gatheredInLongest, gatheredInShortest].flatMap((surplus) =>
    findCrossings(surplus, light.startMs, lastMs, step, 1).map(({ x }) => x),
  );
  const edges = [light.startMs, ...crossings.sort((a, b) => a - b), lastMs];
  const windows: { startMs: number; endMs: number }[] = [];
  for (let i = 1; i < edges.length; i++) {
    const startMs = edges[i - 1] as number;
    const endMs = edges[i] as number;
    const middle = (startMs + endMs) / 2;
    if (!(endMs > startMs && gatheredInLongest(middle) >= 0 && gatheredInShortest(middle) <= 0)) continue;
    const before = windows.at(-1);
    if (before !== undefined && before.endMs === startMs) before.endMs = endMs;
    else windows.push({ startMs, endMs });
  }
  return windows;
}
