import { requireInRange } from "../domain-error";
import type { LightSums } from "./light-sums";
import { type FilmReciprocity, filmEquivalentSeconds } from "./reciprocity";
import { readAperture, readIso } from "./settings";

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

/** Light that gives the exposure wanted, through filters and compensation, in seconds of EV100 0: N²·100/S·2^(compensation + attenuation). */
export function lightNeeded(settings: LongExposureSettings): number {
  const aperture = readAperture(settings.aperture).exact;
  const iso = readIso(settings.iso).exact;
  const compensation = requireInRange("compensationStops", settings.compensationStops ?? 0, -15, 15, "stops");
  return ((aperture * aperture * 100) / iso) * 2 ** (compensation + attenuationOf(settings));
}

/** The attenuation of the settings [stops], checked. */
export function attenuationOf({ attenuationStops = 0 }: LongExposureSettings): number {
  return requireInRange("attenuationStops", attenuationStops, 0, 40, "stops");
}

/**
 * Exposure of a time from a start against what is wanted [stops]; null where the light is not known for so long.
 * Film answers to the mean level: what its time is worth at that level, by the power law.
 */
export function exposureStops(
  light: LightSums,
  startMs: number,
  seconds: number,
  needed: number,
  film: FilmReciprocity | undefined,
): number | null {
  // a hair past the end is rounding of milliseconds, not darkness
  if (!(startMs + seconds * 1000 <= light.curve.endMs + 0.01)) return null;
  const gathered = light.gathered(startMs, seconds);
  const worth = film === undefined ? 1 : filmEquivalentSeconds(seconds, film) / seconds;
  return Math.log2((gathered * worth) / needed);
}
