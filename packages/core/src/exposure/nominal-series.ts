import { requirePositive } from "../domain-error";

/** How finely a dial is divided: whole stops, halves or thirds. */
export type SeriesStep = "full" | "half" | "third";

/** One mark of a dial: what it says, and what it stands for. */
export interface NominalMark {
  /** What the mark stands for: f-number, seconds or ISO. */
  readonly exact: number;
  /** What the mark says, as a number: 11, 0.008, 400. */
  readonly value: number;
  /** What the mark says, as people write it: `f/11`, `1/125 s`, `ISO 400`. */
  readonly text: string;
}

const STEPS_PER_STOP = { full: 1, half: 2, third: 3 } as const;

interface Face {
  readonly value: number;
  readonly text: string;
}

interface Dial {
  /** Stops from the zero of the dial (f/1, 1 s, ISO 100) to its first mark. */
  readonly firstStop: number;
  readonly marks: Readonly<Record<SeriesStep, readonly NominalMark[]>>;
  /** Whole and fractional stops of an exact value from the zero of the dial. */
  readonly stopsOf: (exact: number) => number;
  readonly exactAt: (stops: number) => number;
  /** A mark of two digits, for exact values past either end of the dial. */
  readonly roughFace: (exact: number) => Face;
}

// Full and third stops f/0.5 to f/128, half stops f/1 to f/22: Wikipedia "F-number", tables. f/1.2 in thirds is 2^(1/3) = 1.26,
// which some lenses mark f/1.3; in halves it is 2^(1/4) = 1.19. The rest continues the series: common practice.
const APERTURE_THIRDS =
  "0.5 0.56 0.63 0.7 0.8 0.9 1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32 36 40 45 51 57 64 72 80 90 102 114 128 144 160 180 204 228 256";
const APERTURE_HALVES =
  "0.5 0.6 0.7 0.85 1 1.2 1.4 1.7 2 2.4 2.8 3.3 4 4.8 5.6 6.7 8 9.5 11 13 16 19 22 27 32 38 45 54 64 76 90 108 128 152 180 216 256";

// Common practice: the usual camera markings 1/8000 s to 30 s; on either side the same figures continue.
// Full stops of 1 min and more double the minute: Wikipedia "Exposure value", table 1. A leading stroke stands for 1/, m for minutes.
const SHUTTER_THIRDS =
  "/64000 /50000 /40000 /32000 /25000 /20000 /16000 /12500 /10000 /8000 /6400 /5000 /4000 /3200 /2500 /2000 /1600 /1250 /1000 /800 /640 /500 /400 /320 /250 /200 /160 /125 /100 /80 /60 /50 /40 /30 /25 /20 /15 /13 /10 /8 /6 /5 /4 0.3 0.4 0.5 0.6 0.8 1 1.3 1.6 2 2.5 3.2 4 5 6 8 10 13 15 20 25 30 40 50 60 80 100 2m 2.5m 3.2m 4m 5m 6.4m 8m 10m 13m 16m 20m 25m 32m 40m 50m 64m 80m 100m 128m 160m 200m 256m 320m 400m 512m 640m 800m 1024m 1300m 1600m 2048m 2600m 3200m 4096m";
const SHUTTER_HALVES =
  "/64000 /48000 /32000 /24000 /16000 /12000 /8000 /6000 /4000 /3000 /2000 /1500 /1000 /750 /500 /350 /250 /180 /125 /90 /60 /45 /30 /20 /15 /10 /8 /6 /4 0.3 0.5 0.7 1 1.5 2 3 4 6 8 10 15 20 30 45 60 90 2m 3m 4m 6m 8m 12m 16m 24m 32m 48m 64m 96m 128m 192m 256m 384m 512m 768m 1024m 1536m 2048m 3072m 4096m";

// Common practice: the usual camera markings (ISO 25 to ISO 102400 in thirds); on either side the same figures continue
const ISO_THIRDS =
  "3 4 5 6 8 10 12 16 20 25 32 40 50 64 80 100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 12800 16000 20000 25600 32000 40000 51200 64000 80000 102400 128000 160000 204800 256000 320000 409600 512000 640000 819200 1024000 1280000 1638400 2048000 2560000 3276800";
const ISO_HALVES =
  "3 4 6 9 12 18 25 35 50 70 100 140 200 280 400 560 800 1100 1600 2200 3200 4500 6400 9000 12800 18000 25600 36000 51200 72000 102400 144000 204800 288000 409600 576000 819200 1152000 1638400 2304000 3276800";

interface DialPlan extends Omit<Dial, "marks" | "roughFace"> {
  readonly thirds: string;
  readonly halves: string;
  /** How whole stops read where they differ from the same mark among halves. */
  readonly fulls?: Readonly<Record<string, string>>;
  readonly face: (token: string) => Face;
  readonly roughToken: (exact: number) => string;
}

function dial({ firstStop, stopsOf, exactAt, thirds, halves, fulls = {}, face, roughToken }: DialPlan): Dial {
  const series = (tokens: readonly string[], perStop: number): readonly NominalMark[] =>
    Object.freeze(tokens.map((token, i) => Object.freeze({ exact: exactAt(firstStop + i / perStop), ...face(token) })));
  const half = halves.split(" ");
  const full = half.filter((_, i) => i % 2 === 0).map((token) => fulls[token] ?? token);
  const marks = { full: series(full, 1), half: series(half, 2), third: series(thirds.split(" "), 3) };
  return { firstStop, exactAt, stopsOf, marks, roughFace: (exact) => face(roughToken(exact)) };
}

function shutterFace(token: string): Face {
  if (token.startsWith("/")) return { value: 1 / Number(token.slice(1)), text: `1${token} s` };
  if (token.endsWith("m")) return { value: Number(token.slice(0, -1)) * 60, text: `${token.slice(0, -1)} min` };
  return { value: Number(token), text: `${token} s` };
}

const plainFace =
  (prefix: string) =>
  (token: string): Face => ({ value: Number(token), text: prefix + token });

const twoDigits = (value: number): string => String(Number(value.toPrecision(2)));

// Exact values of the series: N = √2^n, t = 2^n s, S = 100·2^n (APEX, ASA PH2.5-1960)
const APERTURES = dial({
  firstStop: -2,
  thirds: APERTURE_THIRDS,
  halves: APERTURE_HALVES,
  exactAt: (stops) => 2 ** (stops / 2),
  stopsOf: (aperture) => 2 * Math.log2(aperture),
  face: plainFace("f/"),
  roughToken: twoDigits,
});
const SHUTTERS = dial({
  firstStop: -16,
  thirds: SHUTTER_THIRDS,
  halves: SHUTTER_HALVES,
  fulls: { "0.5": "/2" },
  exactAt: (stops) => 2 ** stops,
  stopsOf: (seconds) => Math.log2(seconds),
  face: shutterFace,
  roughToken: (seconds) => (seconds < 1 ? `/${twoDigits(1 / seconds)}` : `${twoDigits(seconds / 60)}m`),
});
const SPEEDS = dial({
  firstStop: -5,
  thirds: ISO_THIRDS,
  halves: ISO_HALVES,
  exactAt: (stops) => 100 * 2 ** stops,
  stopsOf: (iso) => Math.log2(iso / 100),
  face: plainFace("ISO "),
  roughToken: twoDigits,
});

// Values midway between two marks are common, and engines differ in the last bit of a logarithm: the larger mark counts as nearer
const TIE = 1e-9;

/** The mark nearest to an exact value; past either end of the dial a mark of two digits is made by the same rule. */
function nearest(of: Dial, exact: number, step: SeriesStep): NominalMark {
  const perStop = STEPS_PER_STOP[step];
  const steps = Math.round(of.stopsOf(exact) * perStop + TIE);
  const mark = of.marks[step][steps - of.firstStop * perStop];
  if (mark !== undefined) return mark;
  const made = of.exactAt(steps / perStop);
  return { exact: made, ...of.roughFace(made) };
}

/**
 * The apertures marked on lenses, widest first: f/0.5 to f/256.
 * @param step how finely the ring is divided; default thirds
 * @returns marks with their exact f-numbers
 * Source: Wikipedia "F-number", tables; common practice past them. Held by the golden rows `series`.
 * @example apertureSeries("full")[9].text // "f/11"
 */
export function apertureSeries(step: SeriesStep = "third"): readonly NominalMark[] {
  return APERTURES.marks[step];
}

/**
 * The shutter times marked on cameras, shortest first: 1/64000 s to 4096 min.
 * @param step how finely the dial is divided; default thirds
 * @returns marks with their exact times [s]
 * Source: common practice; full stops past 1 min by Wikipedia "Exposure value", table 1. Held by the golden rows `series` and `evtime`.
 * @example shutterSeries("full")[9].text // "1/125 s"
 */
export function shutterSeries(step: SeriesStep = "third"): readonly NominalMark[] {
  return SHUTTERS.marks[step];
}

/**
 * The speeds marked on cameras, slowest first: ISO 3 to ISO 3276800.
 * @param step how finely the dial is divided; default thirds
 * @returns marks with their exact speeds
 * Source: common practice. Held by the golden rows `series`.
 * @example isoSeries("full")[5].text // "ISO 100"
 */
export function isoSeries(step: SeriesStep = "third"): readonly NominalMark[] {
  return SPEEDS.marks[step];
}

/**
 * The aperture mark nearest to an exact f-number, counted in stops.
 * @param aperture exact f-number [1], greater than 0
 * @param step how finely the ring is divided; default thirds
 * @throws DomainError for anything not finite or not above 0
 * Source: as {@link apertureSeries}. Held by the golden rows `series`.
 * @example nearestApertureMark(11.3).text // "f/11"
 */
export function nearestApertureMark(aperture: number, step: SeriesStep = "third"): NominalMark {
  return nearest(APERTURES, requirePositive("aperture", aperture), step);
}

/**
 * The shutter mark nearest to an exact time, counted in stops.
 * @param shutterSeconds exact time [s], greater than 0
 * @param step how finely the dial is divided; default thirds
 * @throws DomainError for anything not finite or not above 0
 * Source: as {@link shutterSeries}. Held by the golden rows `series`.
 * @example nearestShutterMark(31).text // "30 s"
 */
export function nearestShutterMark(shutterSeconds: number, step: SeriesStep = "third"): NominalMark {
  return nearest(SHUTTERS, requirePositive("shutterSeconds", shutterSeconds, "s"), step);
}

/**
 * The speed mark nearest to an exact ISO, counted in stops.
 * @param iso exact arithmetic speed [ISO], greater than 0
 * @param step how finely the dial is divided; default thirds
 * @throws DomainError for anything not finite or not above 0
 * Source: as {@link isoSeries}. Held by the golden rows `series`.
 * @example nearestIsoMark(1270).text // "ISO 1250"
 */
export function nearestIsoMark(iso: number, step: SeriesStep = "third"): NominalMark {
  return nearest(SPEEDS, requirePositive("iso", iso), step);
}
