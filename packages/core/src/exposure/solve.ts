import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import type { SeriesStep } from "./dial";
import { ev100OfReading, type MeterReading } from "./meter-reading";
import {
  type ApertureSetting,
  apertureSetting,
  type IsoSetting,
  isoSetting,
  readAperture,
  readIso,
  readShutter,
  type ShutterSetting,
  shutterSetting,
} from "./settings";
import { isFasterThanShutter, isPastLongest } from "./shutter-limits";
import type { VideoAttenuation } from "./video";
import { type HeldVideo, heldForVideo } from "./video-shutter";

/** Exactly two of aperture, shutter time and ISO, and the light. */
export interface ExposureRequest extends MeterReading {
  /** f-number as typed; a mark is read as what it stands for, 11 as 11.31. */
  readonly aperture?: number;
  /** Shutter time as typed [s]; up to 30 s a mark is read as what it stands for, 0.008 as 1/128 s. */
  readonly shutterSeconds?: number;
  /** ISO as typed; a mark is read as what it stands for, 1250 as 1269.9. */
  readonly iso?: number;
  /** Exposure beyond what the meter says [stops], positive for brighter, -15 to 15; default 0. */
  readonly compensationStops?: number;
  /** Light that filters take away [stops], 0 to 40; default 0. */
  readonly attenuationStops?: number;
  /** The series that marks are read from and written in; default: read thirds, then halves; write thirds. */
  readonly series?: SeriesStep;
  /** Whether typed numbers that are marks are read as marks (default), or every number is the exact value that it says. */
  readonly readAs?: "marks" | "values";
  /** With aperture and ISO. */
  readonly video?: HeldVideo;
}

export type ExposureWarningCode = "needs-bulb" | "faster-than-shutter";

/** Something about the settings that will not work as it stands. */
export interface ExposureWarning {
  readonly code: ExposureWarningCode;
  readonly text: string;
}

export interface ExposureSolution {
  readonly aperture: ApertureSetting;
  readonly shutter: ShutterSetting;
  readonly iso: IsoSetting;
  readonly solvedFor: "aperture" | "shutter" | "iso";
  /** The light [EV100]. */
  readonly ev100: number;
  /** What the settings are exposed for [EV100]: the light less compensation and attenuation. */
  readonly settingsEv100: number;
  readonly compensationStops: number;
  readonly attenuationStops: number;
  /** What holds the shutter of the video camera, on top of the filters that are on; present where one is asked for. */
  readonly video?: VideoAttenuation | undefined;
  readonly warnings: readonly ExposureWarning[];
  readonly assumptions: readonly Assumption[];
}

// Past these no lens and no camera has marks; an answer there would name something that does not exist
const APERTURE_ENDS = [0.5, 256] as const;
const ISO_ENDS = [1, 1e7] as const;
const SHUTTER_ENDS = [1e-6, 1e7] as const;

const TWO_OF_THREE = "exactly two of aperture, shutterSeconds and iso";

// Texts are shared: building them each time would cost more than the exposure
const NEEDS_BULB: ExposureWarning = {
  code: "needs-bulb",
  text: "Longer than the 30 s that most cameras count by themselves: use bulb with a timer.",
};
const TOO_FAST: ExposureWarning = {
  code: "faster-than-shutter",
  text: "Shorter than the 1/8000 s of most shutters: stop down, lower the ISO or add a filter.",
};

/**
 * Solve the exposure for a light: any two of aperture, shutter time and ISO give the third, through compensation and filters.
 * Each comes back exact and as the nearest mark of its series, with where it came from.
 * @param request light as `ev100` [EV100] -40 to 40, `luminanceCdPerM2` [cd/m²] or `illuminanceLux` [lx]; two of `aperture` [1] 0.1 to 1024,
 *   `shutterSeconds` [s] 1e-6 to 1e7, `iso` 1 to 1e7; `compensationStops` [stops] -15 to 15; `attenuationStops` [stops] 0 to 40
 *   `video` frame rate [1/s] and shutter angle [deg]
 * @returns the three settings, the light [EV100] and what the settings are exposed for [EV100]
 * @throws DomainError for values out of range, or not exactly two settings and one light; `impossible` where the third would be an
 *   aperture outside f/0.5 to f/256, an ISO outside 1 to 10,000,000 or a time outside 1 µs to 10,000,000 s
 * Source: ISO 2720:1974 and APEX: 2^EV100 = N²·100/(t·ISO). Accuracy: that of the machine on exact values; held by the golden rows
 * `evtime`, `sunny16` and `meter`, and by round trips in tests/core/exposure/solve.spec.ts.
 * @example solveExposure({ ev100: 15, aperture: 16, iso: 100 }).shutter.nominal // "1/125 s"
 */
export function solveExposure(request: ExposureRequest): ExposureSolution {
  const { series } = request;
  const assumptions: Assumption[] = [];
  const ev100 = ev100OfReading(request, assumptions);
  const compensationStops = requireInRange("compensationStops", request.compensationStops ?? 0, -15, 15, "stops");
  const attenuationStops = requireInRange("attenuationStops", request.attenuationStops ?? 0, 0, 40, "stops");
  const settingsEv100 = ev100 - compensationStops - attenuationStops;

  // N²·100 = t·S·2^EV100 (ISO 2720:1974, APEX)
  const hundredfold = 2 ** settingsEv100 / 100;
  let aperture = request.aperture === undefined ? undefined : readAperture(request.aperture, series);
  let shutter = request.shutterSeconds === undefined ? undefined : readShutter(request.shutterSeconds, series);
  let iso = request.iso === undefined ? undefined : readIso(request.iso, series);
  if (request.readAs === "values") {
    aperture &&= apertureSetting(request.aperture as number, "value", series);
    shutter &&= shutterSetting(request.shutterSeconds as number, "value", series);
    iso &&= isoSetting(request.iso as number, "value", series);
  }
  let solvedFor: ExposureSolution["solvedFor"];
  if (aperture !== undefined && shutter !== undefined && iso !== undefined) throw twoOfThree("iso", request.iso);
  if (aperture !== undefined && iso !== undefined) {
    const seconds = (aperture.exact * aperture.exact) / (iso.exact * hundredfold);
    shutter = shutterSetting(requireReal("shutterSeconds", seconds, SHUTTER_ENDS, "s"), "solved", series);
    solvedFor = "shutter";
  } else if (shutter !== undefined && iso !== undefined) {
    const exact = Math.sqrt(shutter.seconds * iso.exact * hundredfold);
    aperture = apertureSetting(requireReal("aperture", exact, APERTURE_ENDS), "solved", series);
    solvedFor = "aperture";
  } else if (aperture !== undefined && shutter !== undefined) {
    const exact = (aperture.exact * aperture.exact) / (shutter.seconds * hundredfold);
    iso = isoSetting(requireReal("iso", exact, ISO_ENDS), "solved", series);
    solvedFor = "iso";
  } else {
    throw twoOfThree(aperture === undefined ? "aperture" : "shutterSeconds", undefined);
  }

  noteMark(assumptions, "aperture", request.aperture, aperture.exact, aperture);
  noteMark(assumptions, "shutterSeconds", request.shutterSeconds, shutter.seconds, shutter);
  noteMark(assumptions, "iso", request.iso, iso.exact, iso);
  const warnings = isPastLongest(shutter.seconds)
    ? [NEEDS_BULB]
    : isFasterThanShutter(shutter.seconds)
      ? [TOO_FAST]
      : [];
  return {
    aperture,
    shutter,
    iso,
    solvedFor,
    ev100,
    settingsEv100,
    compensationStops,
    attenuationStops,
    video: request.video && heldForVideo(request.video, solvedFor, shutter.seconds),
    warnings,
    assumptions,
  };
}

function twoOfThree(param: string, given: unknown): DomainError {
  return new DomainError({ param, given, allowed: TWO_OF_THREE });
}

/** The solved value, unless it is one that no lens or camera has. */
function requireReal(param: string, value: number, [least, most]: readonly [number, number], unit?: string): number {
  // the ends give way to rounding, so that a mark at the very end can be solved for
  if (value >= least * (1 - 1e-12) && value <= most * (1 + 1e-12)) return Math.min(most, Math.max(least, value));
  const allowed = `a light and settings that ask for ${least} to ${most}`;
  throw new DomainError({ code: "impossible", param, given: value, allowed, unit });
}

/** Says in the answer that a number was read as a mark, where the mark stands for something else. */
function noteMark(
  assumptions: Assumption[],
  field: string,
  typed: number | undefined,
  exact: number,
  setting: { readonly nominal: string; readonly origin: string },
): void {
  if (setting.origin === "mark" && typed !== exact) {
    assumptions.push({ field, value: exact, why: `read as the mark ${setting.nominal}` });
  }
}
