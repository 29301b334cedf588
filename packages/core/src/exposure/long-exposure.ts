import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import { findCrossings } from "../roots";
import { requireEv100 } from "./exposure-value";
import { ev100OnCurve, type LightCurve, lightGathered, secondsUntilGathered, shiftLightCurve } from "./light-curve";
import { type FilmReciprocity, filmEquivalentSeconds, filmSeconds } from "./reciprocity";
import { readAperture, readIso, readShutter, type ShutterSetting, shutterSetting } from "./settings";

/** What stays the same while the shutter is open. */
export interface LongExposureSettings {
  /** f-number as typed; a mark is read as what it stands for. */
  readonly aperture: number;
  /** ISO as typed; a mark is read as what it stands for. */
  readonly iso: number;
  /** Light that filters take away [stops], 0 to 40; default 0. */
  readonly attenuationStops?: number;
  /** Exposure beyond what the meter says [stops], -15 to 15; default 0. */
  readonly compensationStops?: number;
  /** For film; a sensor needs none. */
  readonly reciprocity?: FilmReciprocity;
}

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
 * How long to expose while the light is changing. The naive time holds the light still at its first value; the corrected time solves
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

  const naiveSeconds = needed / 2 ** ev100;
  if (!(naiveSeconds <= 1e7)) {
    const allowed = "a light, aperture, ISO and filters that ask for at most 10,000,000 s";
    throw new DomainError({ code: "impossible", param: "attenuationStops", given: attenuationStops, allowed });
  }
  const minuteMs = Math.min(60_000, light.endMs - startMs);
  const change = ev100OnCurve(light, startMs + minuteMs) - ev100;

  return {
    startMs,
    ev100,
    curveShiftStops: ev100 - modelled,
    attenuationStops,
    naive: shutterSetting(naiveSeconds, "solved"),
    ...(film === undefined ? {} : { steadyOnFilm: shutterSetting(filmSeconds(naiveSeconds, film), "solved") }),
    corrected: correctedShutter(light, startMs, needed, film),
    errorStops: exposureStops(light, startMs, naiveSeconds, needed, film),
    stopsPerMinute: change / (minuteMs / 60_000),
    ...(request.wantedShutterSeconds === undefined
      ? {}
      : { wanted: wantedShutter(light, startMs, needed, request.wantedShutterSeconds, film) }),
    assumptions,
  };
}

/**
 * When, over an evening or a morning, a wanted shutter time is the right one behind given filters: the inverse of {@link solveLongExposure}.
 * @param light the light, moved to a meter reading beforehand where there is one
 * @param settings aperture [1], ISO, filters [stops], compensation [stops], film
 * @param wantedShutterSeconds [s], 1e-6 to 1e7, read as `readShutter` reads it
 * @param fromMs [Unix ms] first start that will do; default: the start of the curve
 * @returns the instants to open the shutter at, each with whether the light fades or grows; or that the light always asks for a shorter or a
 *   longer time. Starts so late that the light is not known until the shutter closes are left out.
 * @throws DomainError for values out of range; `impossible` where the whole curve is shorter than the wanted time
 * Source and accuracy: as {@link solveLongExposure}; held by round trips in tests/core/exposure/long-exposure.spec.ts.
 * @example whenShutterComesAbout(light, { aperture: 11, iso: 100, attenuationStops: 6 }, 30)
 */
export function whenShutterComesAbout(
  light: LightCurve,
  settings: LongExposureSettings,
  wantedShutterSeconds: number,
  fromMs: number = light.startMs,
): ShutterMoments {
  const seconds = readShutter(wantedShutterSeconds, undefined, "wantedShutterSeconds").seconds;
  const needed = lightNeeded(settings);
  const lastMs = light.endMs - seconds * 1000;
  ev100OnCurve(light, fromMs, "fromMs");
  if (!(lastMs >= fromMs)) {
    const allowed = `at most the ${(light.endMs - fromMs) / 1000} s for which the light is known`;
    throw new DomainError({ code: "impossible", param: "wantedShutterSeconds", given: seconds, allowed, unit: "s" });
  }
  const surplus = (atMs: number): number =>
    exposureStops(light, Math.min(atMs, lastMs), seconds, needed, settings.reciprocity) as number;
  return momentsOf(surplus, fromMs, lastMs);
}

function momentsOf(surplus: (atMs: number) => number, fromMs: number, lastMs: number): ShutterMoments {
  const moments = crossingsOf(surplus, fromMs, lastMs).map(
    ({ x, direction }): ShutterMoment => ({ startMs: x, direction: direction === "rising" ? "growing" : "fading" }),
  );
  if (moments.length > 0) return { kind: "crosses", moments };
  return surplus(fromMs) > 0 ? { kind: "always-shorter" } : { kind: "always-longer" };
}

/** Light that gives the exposure wanted, through filters and compensation, in seconds of EV100 0: N²·100/S·2^(compensation + attenuation). */
function lightNeeded(settings: LongExposureSettings): number {
  const aperture = readAperture(settings.aperture).exact;
  const iso = readIso(settings.iso).exact;
  const compensation = requireInRange("compensationStops", settings.compensationStops ?? 0, -15, 15, "stops");
  return ((aperture * aperture * 100) / iso) * 2 ** (compensation + attenuationOf(settings));
}

function attenuationOf({ attenuationStops = 0 }: LongExposureSettings): number {
  return requireInRange("attenuationStops", attenuationStops, 0, 40, "stops");
}

/**
 * Exposure of a time from a start against what is wanted [stops]; null where the light is not known for so long.
 * Film answers to the mean level: what its time is worth at that level, by the power law.
 */
function exposureStops(
  light: LightCurve,
  startMs: number,
  seconds: number,
  needed: number,
  film: FilmReciprocity | undefined,
): number | null {
  // a hair past the end is rounding of milliseconds, not darkness
  if (!(startMs + seconds * 1000 <= light.endMs + 0.01)) return null;
  const gathered = lightGathered(light, startMs, seconds);
  const worth = film === undefined ? 1 : filmEquivalentSeconds(seconds, film) / seconds;
  return Math.log2((gathered * worth) / needed);
}

function correctedShutter(
  light: LightCurve,
  startMs: number,
  needed: number,
  film: FilmReciprocity | undefined,
): CorrectedShutter {
  const longest = (light.endMs - startMs) / 1000;
  const seconds =
    film === undefined || film.exponent === 1
      ? secondsUntilGathered(light, startMs, needed)
      : secondsOnFilm(light, startMs, longest, needed, film);
  if (seconds !== undefined) {
    return { kind: "reached", shutter: shutterSetting(seconds, "solved"), endMs: startMs + seconds * 1000 };
  }
  const gatheredStops = exposureStops(light, startMs, longest, needed, film) as number;
  return { kind: "not-reached", knownUntilMs: light.endMs, gatheredStops };
}

/** The time is looked for by its logarithm, from one that is too short even in the brightest light of the curve. */
function secondsOnFilm(
  light: LightCurve,
  startMs: number,
  longest: number,
  needed: number,
  film: FilmReciprocity,
): number | undefined {
  const shortest = Math.min(needed / 2 ** Math.max(...light.ev100), longest) / 2;
  const surplus = (log: number): number =>
    exposureStops(light, startMs, Math.min(2 ** log, longest), needed, film) as number;
  const [first] = findCrossings(surplus, Math.log2(shortest), Math.log2(longest), 0.25, 1e-10);
  return first === undefined ? undefined : 2 ** first.x;
}

function wantedShutter(
  light: LightCurve,
  startMs: number,
  needed: number,
  wantedSeconds: number,
  film: FilmReciprocity | undefined,
): NonNullable<LongExposure["wanted"]> {
  const shutter = readShutter(wantedSeconds, undefined, "wantedShutterSeconds");
  const { seconds } = shutter;
  const errorStops = exposureStops(light, startMs, seconds, needed, film);
  const lastMs = light.endMs - seconds * 1000;
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

/** Crossings of zero over a span of time, to the millisecond. */
function crossingsOf(curve: (atMs: number) => number, fromMs: number, toMs: number) {
  if (!(toMs > fromMs)) return [];
  const step = Math.max(1, Math.min(60_000, (toMs - fromMs) / 64));
  return findCrossings(curve, fromMs, toMs, step, 1);
}
