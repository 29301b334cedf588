import { dial, type Face, type NominalMark, nearestMark, type SeriesStep } from "./dial";

/** Figures as they are listed, up to `count` of them: past those listed the last `perDoubling` come again, twice as large each time. */
function figures(listed: string, count = 0, perDoubling = 1): number[] {
  const all = listed.split(" ").map(Number);
  while (all.length < count) all.push(2 * (all[all.length - perDoubling] as number));
  return all;
}

const fNumber = (value: number): Face => ({ value, text: `f/${value}` });
const speed = (value: number): Face => ({ value, text: `ISO ${value}` });
const fraction = (part: number): Face => ({ value: 1 / part, text: `1/${part} s` });
const seconds = (value: number): Face => ({ value, text: `${value} s` });
const minutes = (value: number): Face => ({ value: value * 60, text: `${value} min` });

const twoDigits = (value: number): number => Number(value.toPrecision(2));

// Full and third stops f/0.5 to f/128, half stops f/1 to f/22: Wikipedia "F-number", tables. f/1.2 in thirds is 2^(1/3) = 1.26,
// which some lenses mark f/1.3; in halves it is 2^(1/4) = 1.19. The rest continues the series: common practice.
const F_THIRDS =
  "0.5 0.56 0.63 0.7 0.8 0.9 1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32 36 40 45 51 57 64 72 80 90 102";
const F_HALVES =
  "0.5 0.6 0.7 0.85 1 1.2 1.4 1.7 2 2.4 2.8 3.3 4 4.8 5.6 6.7 8 9.5 11 13 16 19 22 27 32 38 45 54 64 76 90";

// Common practice: the usual camera markings 1/8000 s to 30 s; on either side the same figures continue.
// Full stops of 1 min and more double the minute: Wikipedia "Exposure value", table 1.
const FRACTION_THIRDS =
  "4 5 6 8 10 13 15 20 25 30 40 50 60 80 100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 12500";
const SECOND_THIRDS = "0.3 0.4 0.5 0.6 0.8 1 1.3 1.6 2 2.5 3.2 4 5 6 8 10 13 15 20 25 30 40 50 60 80 100";
const MINUTE_THIRDS =
  "2 2.5 3.2 4 5 6.4 8 10 13 16 20 25 32 40 50 64 80 100 128 160 200 256 320 400 512 640 800 1024 1300 1600 2048 2600 3200 4096";
const FRACTION_HALVES = "4 6 8 10 15 20 30 45 60 90 125 180 250 350 500 750";
const SECOND_HALVES = "0.3 0.5 0.7 1 1.5 2 3 4 6 8 10 15 20 30 45 60 90";
const MINUTE_HALVES = "2 3";

// Common practice: the usual camera markings (ISO 25 to ISO 102400 in thirds); on either side the same figures continue
const ISO_THIRDS =
  "3 4 5 6 8 10 12 16 20 25 32 40 50 64 80 100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000";
const ISO_HALVES = "3 4 6 9 12 18 25 35 50 70 100 140 200 280 400 560 800 1100 1600 2200 3200 4500 6400 9000";

export const APERTURES = dial(
  { param: "aperture", zero: 1, doubling: 2, firstStop: -2, roughFace: (exact) => fNumber(twoDigits(exact)) },
  figures(F_THIRDS, 55, 6).map(fNumber),
  figures(F_HALVES, 37, 4).map(fNumber),
);

export const SPEEDS = dial(
  { param: "iso", zero: 100, doubling: 1, firstStop: -5, roughFace: (exact) => speed(twoDigits(exact)) },
  figures(ISO_THIRDS, 61, 3).map(speed),
  figures(ISO_HALVES, 41, 2).map(speed),
);

/** Shutter times from the shortest: fractions of a second, seconds, minutes. */
function times(parts: number[], whole: number[], long: number[]): Face[] {
  return [...parts.reverse().map(fraction), ...whole.map(seconds), ...long.map(minutes)];
}

export const TIMES = dial(
  {
    param: "shutterSeconds",
    unit: "s",
    zero: 1,
    doubling: 1,
    firstStop: -16,
    roughFace: (exact) => (exact < 1 ? fraction(twoDigits(1 / exact)) : minutes(twoDigits(exact / 60))),
  },
  times(figures(FRACTION_THIRDS, 43, 3), figures(SECOND_THIRDS), figures(MINUTE_THIRDS)),
  times(figures(FRACTION_HALVES, 29, 2), figures(SECOND_HALVES), figures(MINUTE_HALVES, 23, 2)),
  // among whole stops half a second is written as a fraction
  (face) => (face.value === 0.5 ? fraction(2) : face),
);

/**
 * List the apertures marked on lenses, widest first: f/0.5 to f/256.
 * @param step how finely the ring is divided; default thirds
 * @returns marks with their exact f-numbers
 * Source: Wikipedia "F-number", tables; common practice past them. Held by the golden rows `series`.
 * @example apertureSeries("full")[9].text // "f/11"
 */
export function apertureSeries(step: SeriesStep = "third"): readonly NominalMark[] {
  return APERTURES.marks[step];
}

/**
 * List the shutter times marked on cameras, shortest first: 1/64000 s to 4096 min.
 * @param step how finely the dial is divided; default thirds
 * @returns marks with their exact times [s]
 * Source: common practice; full stops past 1 min by Wikipedia "Exposure value", table 1. Held by the golden rows `series` and `evtime`.
 * @example shutterSeries("full")[9].text // "1/125 s"
 */
export function shutterSeries(step: SeriesStep = "third"): readonly NominalMark[] {
  return TIMES.marks[step];
}

/**
 * List the speeds marked on cameras, slowest first: ISO 3 to ISO 3276800.
 * @param step how finely the dial is divided; default thirds
 * @returns marks with their exact speeds
 * Source: common practice. Held by the golden rows `series`.
 * @example isoSeries("full")[5].text // "ISO 100"
 */
export function isoSeries(step: SeriesStep = "third"): readonly NominalMark[] {
  return SPEEDS.marks[step];
}

/**
 * Find the aperture mark nearest to an exact f-number, counted in stops.
 * @param aperture exact f-number [1], greater than 0
 * @param step how finely the ring is divided; default thirds
 * @throws DomainError for anything not finite or not above 0
 * Source: as {@link apertureSeries}. Held by the golden rows `series`.
 * @example nearestApertureMark(11.3).text // "f/11"
 */
export function nearestApertureMark(aperture: number, step?: SeriesStep): NominalMark {
  return nearestMark(APERTURES, aperture, step);
}

/**
 * Find the shutter mark nearest to an exact time, counted in stops.
 * @param shutterSeconds exact time [s], greater than 0
 * @param step how finely the dial is divided; default thirds
 * @throws DomainError for anything not finite or not above 0
 * Source: as {@link shutterSeries}. Held by the golden rows `series`.
 * @example nearestShutterMark(31).text // "30 s"
 */
export function nearestShutterMark(shutterSeconds: number, step?: SeriesStep): NominalMark {
  return nearestMark(TIMES, shutterSeconds, step);
}

/**
 * Find the speed mark nearest to an exact ISO, counted in stops.
 * @param iso exact arithmetic speed [ISO], greater than 0
 * @param step how finely the dial is divided; default thirds
 * @throws DomainError for anything not finite or not above 0
 * Source: as {@link isoSeries}. Held by the golden rows `series`.
 * @example nearestIsoMark(1270).text // "ISO 1250"
 */
export function nearestIsoMark(iso: number, step?: SeriesStep): NominalMark {
  return nearestMark(SPEEDS, iso, step);
}
