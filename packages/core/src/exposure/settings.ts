import { DomainError, requireInRange, requirePositive } from "../domain-error";
import { markNamed, type NominalMark, nearestMark, type SeriesStep } from "./dial";
import { APERTURES, SPEEDS, TIMES } from "./nominal-series";

/**
 * Where an exact value comes from: `mark`, the number that was given is a mark of the series and was read as what the mark stands for;
 * `value`, the number that was given is not a mark and was taken as it is; `solved`, it was calculated.
 */
export type SettingOrigin = "mark" | "value" | "solved";

interface Setting {
  /** The nearest mark, as people write it. */
  readonly nominal: string;
  /** How much more exposure [stops] the exact value gives than the nearest mark stands for; negative for less. */
  readonly offsetStops: number;
  readonly origin: SettingOrigin;
}

export interface ApertureSetting extends Setting {
  /** Exact f-number: 11.31 where the mark says f/11. */
  readonly exact: number;
  /** The nearest mark as a number: 11. */
  readonly nominalValue: number;
}

export interface ShutterSetting extends Setting {
  /** Exact time [s]: 32 where the mark says 30 s. */
  readonly seconds: number;
  /** The nearest mark as a number [s]: 30. */
  readonly nominalSeconds: number;
}

export interface IsoSetting extends Setting {
  /** Exact arithmetic speed: 1269.9 where the mark says ISO 1250. */
  readonly exact: number;
  /** The nearest mark as a number: 1250. */
  readonly nominalValue: number;
}

// Longest mark of the dials in common practice; a longer time is held by a person or a timer, so its number means what it says
const LONGEST_DIAL_SECONDS = 30;

// Fractions of a second come rounded to three digits (1/60 as 0.0167); marks lie at least 5 % apart, so this cannot mix them up
const FRACTION_SLACK = 0.0025;
const SLACK = 1e-9;

function plainSetting(exact: number, { text, value }: NominalMark, offsetStops: number, origin: SettingOrigin) {
  return { exact, nominal: text, nominalValue: value, offsetStops, origin };
}

function apertureAt(exact: number, mark: NominalMark, origin: SettingOrigin): ApertureSetting {
  return plainSetting(exact, mark, 2 * Math.log2(mark.exact / exact), origin);
}

function isoAt(exact: number, mark: NominalMark, origin: SettingOrigin): IsoSetting {
  return plainSetting(exact, mark, Math.log2(exact / mark.exact), origin);
}

function shutterAt(seconds: number, mark: NominalMark, origin: SettingOrigin): ShutterSetting {
  const offsetStops = Math.log2(seconds / mark.exact);
  return { seconds, nominal: mark.text, nominalSeconds: mark.value, offsetStops, origin };
}

/** Make a setting from an exact aperture, with the nearest mark beside it. */
export function apertureSetting(exact: number, origin: SettingOrigin, step?: SeriesStep): ApertureSetting {
  return apertureAt(exact, nearestMark(APERTURES, exact, step), origin);
}

/** Make a setting from an exact time [s], with the nearest mark beside it. */
export function shutterSetting(seconds: number, origin: SettingOrigin, step?: SeriesStep): ShutterSetting {
  return shutterAt(seconds, nearestMark(TIMES, seconds, step), origin);
}

/** Make a setting from an exact ISO, with the nearest mark beside it. */
export function isoSetting(exact: number, origin: SettingOrigin, step?: SeriesStep): IsoSetting {
  return isoAt(exact, nearestMark(SPEEDS, exact, step), origin);
}

/**
 * Read an aperture typed as a number. A mark of the series is read as the mark, so 11 is f/11, which is 11.31 exactly;
 * a number that no ring is marked with is taken as it is. Both are in the answer, and `origin` says which was done.
 * @param aperture f-number as typed [1], 0.1 to 1024
 * @param step the series it was read from; default thirds, then halves: f/13 is 12.70 among thirds and 13.45 among halves
 * @param param name to report errors under
 * @throws DomainError outside that range
 * Source: marks by {@link apertureSeries}; the way of reading is our choice. f/1.3 is read as the third of a stop that the tables print as f/1.2.
 * Held by tests/core/exposure/settings.spec.ts.
 * @example readAperture(11).exact // 11.31
 */
export function readAperture(aperture: number, step?: SeriesStep, param = "aperture"): ApertureSetting {
  requireInRange(param, aperture, 0.1, 1024);
  // Wikipedia "F-number": f/1.2 and f/1.3 name the same third of a stop
  const typed = aperture === 1.3 && step !== "half" ? 1.2 : aperture;
  const mark = markNamed(APERTURES, typed, step, SLACK);
  return mark === undefined ? apertureSetting(aperture, "value", step) : apertureAt(mark.exact, mark, "mark");
}

/**
 * Read a shutter time typed as a number. Up to 30 s, a mark of the series is read as the mark, so 0.008 is 1/125 s, which is
 * 1/128 s exactly, and 30 is 32 s; fractions may be rounded to three digits (0.0167 is 1/60 s). Other numbers, and all above 30 s,
 * are taken as they are: such times are held by hand or by a timer. `origin` says which was done.
 * @param shutterSeconds time as typed [s], 1e-6 to 1e7
 * @param step the series it was read from; default thirds, then halves: 1/6 s is 0.157 s among thirds and 0.177 s among halves
 * @param param name to report errors under
 * @throws DomainError outside that range
 * Source: marks by {@link shutterSeries}; the way of reading is our choice. Held by tests/core/exposure/settings.spec.ts.
 * @example readShutter(30).seconds // 32
 */
export function readShutter(shutterSeconds: number, step?: SeriesStep, param = "shutterSeconds"): ShutterSetting {
  requireInRange(param, shutterSeconds, 1e-6, 1e7, "s");
  if (shutterSeconds <= LONGEST_DIAL_SECONDS) {
    const mark = markNamed(TIMES, shutterSeconds, step, shutterSeconds < 1 ? FRACTION_SLACK : SLACK);
    if (mark !== undefined) return shutterAt(mark.exact, mark, "mark");
  }
  return shutterSetting(shutterSeconds, "value", step);
}

/**
 * Read an ISO speed typed as a number. A mark of the series is read as the mark, so 1250 is 1269.9 exactly;
 * another number is taken as it is. `origin` says which was done.
 * @param iso speed as typed [ISO], 1 to 10,000,000
 * @param step the series it was read from; default thirds, then halves
 * @param param name to report errors under
 * @throws DomainError outside that range
 * Source: marks by {@link isoSeries}; the way of reading is our choice. Held by tests/core/exposure/settings.spec.ts.
 * @example readIso(1250).exact // 1269.92
 */
export function readIso(iso: number, step?: SeriesStep, param = "iso"): IsoSetting {
  requireInRange(param, iso, 1, 1e7);
  const mark = markNamed(SPEEDS, iso, step, SLACK);
  return mark === undefined ? isoSetting(iso, "value", step) : isoAt(mark.exact, mark, "mark");
}

/**
 * Parse an aperture as people write it: `f/11`, `F11`, `11`; read as {@link readAperture} reads its number.
 * @throws DomainError for other text
 * @example parseAperture("f/5.6").exact // 5.657
 */
export function parseAperture(text: string, step?: SeriesStep): ApertureSetting {
  const match = /^(?:f\s*(?:\/\s*)?)?(\d+(?:\.\d+)?)$/i.exec(text.trim());
  if (match === null) throw notWritten("aperture", text, "an f-number, such as f/11 or 5.6");
  return readAperture(Number(match[1]), step);
}

/**
 * Parse a shutter time as people write it: `1/125`, `1/125 s`, `0.5`, `30 s`, `30"`, `2 min`; read as {@link readShutter} reads its number.
 * @throws DomainError for other text
 * @example parseShutter("1/125").seconds // 0.0078125
 */
export function parseShutter(text: string, step?: SeriesStep): ShutterSetting {
  const match = /^(\d+(?:\.\d+)?)(?:\s*\/\s*(\d+(?:\.\d+)?))?\s*(s|sec|"|”|″|min|m)?$/i.exec(text.trim());
  if (match === null) throw notWritten("shutterSeconds", text, 'a time, such as 1/125, 0.5, 30 s, 30" or 2 min');
  const seconds = Number(match[1]) / requirePositive("shutterSeconds", Number(match[2] ?? 1));
  return readShutter(/^m/i.test(match[3] ?? "") ? seconds * 60 : seconds, step);
}

/**
 * Parse an ISO speed as people write it: `ISO 400`, `400`; read as {@link readIso} reads its number.
 * @throws DomainError for other text
 * @example parseIso("ISO 400").exact // 400
 */
export function parseIso(text: string, step?: SeriesStep): IsoSetting {
  const match = /^(?:iso\s*)?(\d+(?:\.\d+)?)$/i.exec(text.trim());
  if (match === null) throw notWritten("iso", text, "a speed, such as ISO 400");
  return readIso(Number(match[1]), step);
}

function notWritten(param: string, given: string, allowed: string): DomainError {
  return new DomainError({ param, given, allowed });
}
