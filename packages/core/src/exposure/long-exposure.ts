import { DomainError } from "../domain-error";
import type { Assumption } from "../notes";
import { findCrossings } from "../roots";
import { requireEv100 } from "./exposure-value";
import { ev100OnCurve, type LightCurve, secondsUntilGathered, shiftLightCurve } from "./light-curve";
import { attenuationOf, exposureStops, type LongExposureSettings, lightNeeded } from "./light-needed";
import { LightSums } from "./light-sums";
import { type FilmReciprocity, filmSeconds } from "./reciprocity";
import { readShutter, type ShutterSetting, shutterSetting } from "./settings";
import { momentsOf, type ShutterMoments } from "./shutter-moments";

export { type ShutterMoments, whenShutterComesAbout } from "./shutter-moments";

export interface LongExposureRequest extends LongExposureSettings {
  /** How the light goes; only its course matters where a meter reading is given. */
  readonly light: LightCurve;
  /** When the shutter opens [Unix ms], within the curve. */
  readonly startMs: number;
  /** What a meter reads when the shutter opens [EV100]; the whole curve is moved to agree. Default: the curve is taken as it is. */
  readonly meteredEv100?: number;
  /** A shutter time that is wanted, as for smooth water [s]; then its latest start is looked for. */
  readonly wantedShutterSeconds?: number;
}

/** The time that gathers the light that is wanted, or how far the light falls short while it is known. */
export type CorrectedShutter =
  | { readonly kind: "reached"; readonly shutter: ShutterSetting; readonly endMs: number }
  | {
      readonly kind: "not-reached";
      /** Until when the light is known [Unix ms]. */
      readonly knownUntilMs: number;
      /** Exposure that an open shutter has by then, against what is wanted [stops]; negative. */
      readonly gatheredStops: number;
    };

/** The last instant to open the shutter for a wanted time, and still have the light. */
export type LatestStart =
  | { readonly kind: "at"; readonly startMs: number }
  /** The light lasts for it as far as it is known. */
  | { readonly kind: "beyond-known" }
  /** Too dark at the instant asked for, and until the light is no longer known. */
  | { readonly kind: "too-late" }
  /** The light is not known for long enough from the instant asked for. */
  | { readonly kind: "not-known" };

export interface LongExposure {
  readonly startMs: number;
  /** Light when the shutter opens [EV100]. */
  readonly ev100: number;
  /** How far the meter reading moved the curve [stops]; 0 without one. */
  readonly curveShiftStops: number;
  readonly attenuationStops: number;
  /** The time if the light stood still, and film held its speed. */
  readonly naive: ShutterSetting;
  /** The time if the light stood still, with the film's loss of speed; present for film. */
  readonly steadyOnFilm?: ShutterSetting;
  readonly corrected: CorrectedShutter;
  /** How wrong the exposure is with the naive time [stops], negative for under-exposed; null where the light is not known for so long. */
  readonly errorStops: number | null;
  /** How fast the light goes in the minute from the start [stops/min]; negative while it fades. */
  readonly stopsPerMinute: number;
  /** Present where a shutter time is wanted. */
  readonly wanted?: {
    readonly shutter: ShutterSetting;
    readonly latestStart: LatestStart;
    /** When, from this start on, the wanted time is the right one. */
    readonly comesAbout: ShutterMoments | { readonly kind: "not-known" };
    /** Exposure that the wanted time gives from this start, against what is wanted [stops]; null where the light is not known for so long. */
    readonly errorStops: number | null;
  };
  readonly assumptions: readonly Assumption[];
}

/**
 * Compute how long to expose while the light is changing. The naive time holds the light still at its first value; the corrected time solves
 * ∫ L dt = H, the light gathered against the exposure that is wanted, and for film the loss of speed at the mean level besides.
 * @param request `aperture` [1], `iso`, `attenuationStops` [stops] 0 to 40, `compensationStops` [stops] -15 to 15; the light as a curve;
 *   `startMs` [Unix ms]; `meteredEv100` [EV100]; `wantedShutterSeconds` [s]; `reciprocity` for film
 * @returns naive and corrected time, the error of the naive one [stops], how fast the light goes [stops/min], and the latest start for a
 *   wanted time; a curve that never gives enough says by how much it falls short
 * @throws DomainError for values out of range; `impossible` for a start outside the curve, or a naive time past 10,000,000 s
 * Source: reciprocity law, H = ∫ E dt (ISO 2720:1974 for the level). Accuracy: within 0.1 % of the closed form for exponential decay on
 * sampled curves, limited by the curve itself; held by tests/core/exposure/long-exposure.spec.ts.
 * @example solveLongExposure({ light, startMs: 0, aperture: 11, iso: 100, attenuationStops: 10 }).corrected
 */
export function solveLongExposure(request: LongExposureRequest): LongExposure {
  const { startMs } = request;
  const film = request.reciprocity;
  const assumptions: Assumption[] = [];
  const attenuationStops = attenuationOf(request);
  const modelled = ev100OnCurve(request.light, startMs, "startMs");
  if (!(startMs < request.light.endMs)) {
    const allowed = `before ${new Date(request.light.endMs).toISOString()}, where the light is no longer known`;
    throw new DomainError({ code: "impossible", param: "startMs", given: startMs, allowed });
  }
  const ev100 = request.meteredEv100 === undefined ? modelled : requireEv100("meteredEv100", request.meteredEv100);
  const light = ev100 === modelled ? request.light : shiftLightCurve(request.light, ev100 - modelled);
  if (request.meteredEv100 === undefined) {
    assumptions.push({ field: "meteredEv100", value: ev100, why: "no meter reading: the light curve as it is" });
  }
  const needed = lightNeeded(request);
  const naiveSeconds = naiveSecondsIn(ev100, needed, attenuationStops);
  const minuteMs = Math.min(60_000, light.endMs - startMs);
  const change = ev100OnCurve(light, startMs + minuteMs) - ev100;
  const sums = new LightSums(light);

  return {
    startMs,
    ev100,
    curveShiftStops: ev100 - modelled,
    attenuationStops,
    naive: shutterSetting(naiveSeconds, "solved"),
    ...(film === undefined ? {} : { steadyOnFilm: shutterSetting(filmSeconds(naiveSeconds, film), "solved") }),
    corrected: correctedShutter(sums, startMs, needed, film),
    errorStops: exposureStops(sums, startMs, naiveSeconds, needed, film),
    stopsPerMinute: change / (minuteMs / 60_000),
    ...(request.wantedShutterSeconds === undefined
      ? {}
      : { wanted: wantedShutter(sums, startMs, needed, request.wantedShutterSeconds, film) }),
    assumptions,
  };
}

/** The time if the light stood still [s]. */
function naiveSecondsIn(ev100: number, needed: number, attenuationStops: number): number {
  const seconds = needed / 2 ** ev100;
  if (seconds <= 1e7) return seconds;
  const allowed = "a light, aperture, ISO and filters that ask for at most 10,000,000 s";
  throw new DomainError({ code: "impossible", param: "attenuationStops", given: attenuationStops, allowed });
}

/**
 * Of {@link solveLongExposure} on a sensor, the times and the error of the naive one, in a light that is summed up already: for a start within it.
 * @throws DomainError `impossible` for a naive time past 10,000,000 s
 */
export function longExposureIn(
  light: LightSums,
  startMs: number,
  settings: LongExposureSettings,
): Pick<LongExposure, "naive" | "corrected" | "errorStops"> {
  const needed = lightNeeded(settings);
  const naiveSeconds = naiveSecondsIn(ev100OnCurve(light.curve, startMs), needed, attenuationOf(settings));
  return {
    naive: shutterSetting(naiveSeconds, "solved"),
    corrected: correctedShutter(light, startMs, needed, undefined),
    errorStops: exposureStops(light, startMs, naiveSeconds, needed, undefined),
  };
}

function correctedShutter(
  light: LightSums,
  startMs: number,
  needed: number,
  film: FilmReciprocity | undefined,
): CorrectedShutter {
  const longest = (light.curve.endMs - startMs) / 1000;
  const seconds =
    film === undefined || film.exponent === 1
      ? secondsUntilGathered(light.curve, startMs, needed)
      : secondsOnFilm(light, startMs, longest, needed, film);
  if (seconds !== undefined) {
    return { kind: "reached", shutter: shutterSetting(seconds, "solved"), endMs: startMs + seconds * 1000 };
  }
  const gatheredStops = exposureStops(light, startMs, longest, needed, film) as number;
  return { kind: "not-reached", knownUntilMs: light.curve.endMs, gatheredStops };
}

/** The time is looked for by its logarithm, from one that is too short even in the brightest light of the curve. */
function secondsOnFilm(
  light: LightSums,
  startMs: number,
  longest: number,
  needed: number,
  film: FilmReciprocity,
): number | undefined {
  const brightestEv100 = light.curve.ev100.reduce((most, one) => Math.max(most, one));
  const shortest = Math.min(needed / 2 ** brightestEv100, longest) / 2;
  const surplus = (log: number): number =>
    exposureStops(light, startMs, Math.min(2 ** log, longest), needed, film) as number;
  const [first] = findCrossings(surplus, Math.log2(shortest), Math.log2(longest), 0.25, 1e-10);
  return first === undefined ? undefined : 2 ** first.x;
}

function wantedShutter(
  light: LightSums,
  startMs: number,
  needed: number,
  wantedSeconds: number,
  film: FilmReciprocity | undefined,
): NonNullable<LongExposure["wanted"]> {
  const shutter = readShutter(wantedSeconds, undefined, "wantedShutterSeconds");
  const { seconds } = shutter;
  const errorStops = exposureStops(light, startMs, seconds, needed, film);
  const lastMs = light.curve.endMs - seconds * 1000;
  if (!(lastMs >= startMs)) {
    return { shutter, latestStart: { kind: "not-known" }, comesAbout: { kind: "not-known" }, errorStops };
  }
  const surplus = (atMs: number): number =>
    exposureStops(light, Math.min(atMs, lastMs), seconds, needed, film) as number;
  const comesAbout = momentsOf(surplus, startMs, lastMs);
  const last = comesAbout.kind === "crosses" ? comesAbout.moments.at(-1) : undefined;
  const latestStart: LatestStart =
    surplus(lastMs) >= 0
      ? { kind: "beyond-known" }
      : last === undefined
        ? { kind: "too-late" }
        : { kind: "at", startMs: last.startMs };
  return { shutter, latestStart, comesAbout, errorStops };
}
