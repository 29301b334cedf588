import { DomainError } from "../domain-error";
import { type Crossing, findCrossings } from "../roots";
import { ev100OnCurve, type LightCurve } from "./light-curve";
import { exposureStops, type LongExposureSettings, lightNeeded } from "./light-needed";
import { LightSums } from "./light-sums";
import { readShutter } from "./settings";

/** When a shutter time is the right one for the light: at instants, or the light always asks for a shorter or a longer one. */
export type ShutterMoments =
  | { readonly kind: "crosses"; readonly moments: readonly ShutterMoment[] }
  | { readonly kind: "always-shorter" }
  | { readonly kind: "always-longer" };

export interface ShutterMoment {
  /** When the shutter opens [Unix ms]. */
  readonly startMs: number;
  /** Whether the light is going or coming, so that a later start asks for a longer or a shorter time. */
  readonly direction: "fading" | "growing";
}

/**
 * Find when, over an evening or a morning, a wanted shutter time is the right one behind given filters: the inverse of `solveLongExposure`.
 * @param light the light, moved to a meter reading beforehand where there is one
 * @param settings aperture [1], ISO, filters [stops], compensation [stops], film
 * @param wantedShutterSeconds [s], 1e-6 to 1e7, read as `readShutter` reads it
 * @param fromMs [Unix ms] first start that will do; default: the start of the curve
 * @returns the instants to open the shutter at, each with whether the light fades or grows; or that the light always asks for a shorter or a
 *   longer time. Starts so late that the light is not known until the shutter closes are left out.
 * @throws DomainError for values out of range; `impossible` where the whole curve is shorter than the wanted time
 * Source and accuracy: as `solveLongExposure`; held by round trips in tests/core/exposure/long-exposure.spec.ts.
 * @example whenShutterComesAbout(light, { aperture: 11, iso: 100, attenuationStops: 6 }, 30)
 */
export function whenShutterComesAbout(
  light: LightCurve,
  settings: LongExposureSettings,
  wantedShutterSeconds: number,
  fromMs: number = light.startMs,
): ShutterMoments {
  const { seconds, needed } = readSettings(light, settings, wantedShutterSeconds, fromMs);
  return momentsIn(new LightSums(light), seconds, needed, settings, fromMs);
}

/** {@link whenShutterComesAbout} in a light that is summed up already. */
export function shutterMomentsIn(
  light: LightSums,
  settings: LongExposureSettings,
  wantedShutterSeconds: number,
  fromMs: number = light.curve.startMs,
): ShutterMoments {
  const { seconds, needed } = readSettings(light.curve, settings, wantedShutterSeconds, fromMs);
  return momentsIn(light, seconds, needed, settings, fromMs);
}

/** The wanted time [s] and the light that it needs, checked against the light that is known. */
function readSettings(
  light: LightCurve,
  settings: LongExposureSettings,
  wantedShutterSeconds: number,
  fromMs: number,
): { seconds: number; needed: number } {
  const { seconds } = readShutter(wantedShutterSeconds, undefined, "wantedShutterSeconds");
  const needed = lightNeeded(settings);
  ev100OnCurve(light, fromMs, "fromMs");
  if (light.endMs - seconds * 1000 >= fromMs) return { seconds, needed };
  const allowed = `at most the ${(light.endMs - fromMs) / 1000} s for which the light is known`;
  throw new DomainError({ code: "impossible", param: "wantedShutterSeconds", given: seconds, allowed, unit: "s" });
}

function momentsIn(
  light: LightSums,
  seconds: number,
  needed: number,
  { reciprocity }: LongExposureSettings,
  fromMs: number,
): ShutterMoments {
  const lastMs = light.curve.endMs - seconds * 1000;
  const surplus = (atMs: number): number =>
    exposureStops(light, Math.min(atMs, lastMs), seconds, needed, reciprocity) as number;
  return momentsOf(surplus, fromMs, lastMs);
}

/** The moments of a span at which a surplus of exposure [stops] turns into a lack, or the reverse. */
export function momentsOf(surplus: (atMs: number) => number, fromMs: number, lastMs: number): ShutterMoments {
  const moments = crossingsOf(surplus, fromMs, lastMs).map(
    ({ x, direction }): ShutterMoment => ({ startMs: x, direction: direction === "rising" ? "growing" : "fading" }),
  );
  if (moments.length > 0) return { kind: "crosses", moments };
  return surplus(fromMs) > 0 ? { kind: "always-shorter" } : { kind: "always-longer" };
}

/** Crossings of zero over a span of time, to the millisecond. */
function crossingsOf(curve: (atMs: number) => number, fromMs: number, toMs: number): Crossing[] {
  if (!(toMs > fromMs)) return [];
  const step = Math.max(1, Math.min(60_000, (toMs - fromMs) / 64));
  return findCrossings(curve, fromMs, toMs, step, 1);
}
