import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import { ev100OfReading, type MeterReading } from "./meter-reading";
import { type HandHeld, handHeldLimitSeconds, longestShutterForBlur, type SubjectMotion } from "./motion";
import { apertureSeries, isoSeries, type SeriesStep } from "./nominal-series";
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
import { MARK_SLACK_STOPS, USUAL_FASTEST_SECONDS } from "./shutter-limits";
import { underPath } from "./under-path";

/** What a rung of the ladder can come up against. Those not given do not bind. */
export interface LadderLimits {
  /** Longest shutter that is still held by hand [s]. */
  readonly handHeldSeconds?: number;
  /** Longest shutter that keeps moving things within their blur budget [s]. */
  readonly subjectMotionSeconds?: number;
  /** Shortest shutter that gives the blur that is wanted, as of water [s]. */
  readonly wantedBlurSeconds?: number;
  /** Smallest opening (largest f-number) before diffraction costs sharpness. */
  readonly diffractionAperture?: number;
  /** Widest opening (smallest f-number) that gives the depth of field that is wanted. */
  readonly depthOfFieldAperture?: number;
  /** Fastest shutter of the camera, as marked [s]; default 1/8000 s. */
  readonly fastestShutterSeconds?: number;
  /** Longest time that the camera counts by itself, as marked [s]; not given: bulb will do. */
  readonly longestShutterSeconds?: number;
}

export type LadderLimit =
  | "hand-held"
  | "subject-motion"
  | "wanted-blur"
  | "diffraction"
  | "depth-of-field"
  | "fastest-shutter"
  | "longest-shutter";

export interface RungLimit {
  readonly limit: LadderLimit;
  /** How far inside the limit the rung is [stops]; negative where it breaks it. */
  readonly marginStops: number;
  readonly holds: boolean;
}

export interface LadderRung {
  readonly aperture: ApertureSetting;
  readonly shutter: ShutterSetting;
  readonly limits: readonly RungLimit[];
  /** Whether every limit holds. */
  readonly usable: boolean;
  /** The limit with the least margin, or null where none was given. */
  readonly binding: LadderLimit | null;
  /** The lowest ISO mark at which this aperture would hold every limit on the shutter; null where no ISO does, or an aperture limit breaks. */
  readonly isoNeeded: IsoSetting | null;
}

export interface EquivalentsRequest extends MeterReading {
  /** ISO as typed; a mark is read as what it stands for. */
  readonly iso: number;
  /** Widest aperture of the lens, as marked; default f/1.4. */
  readonly widestAperture?: number;
  /** Smallest aperture of the lens, as marked; default f/22. */
  readonly smallestAperture?: number;
  /** Exposure beyond what the meter says [stops], -15 to 15; default 0. */
  readonly compensationStops?: number;
  /** Light that filters take away [stops], 0 to 40; default 0. */
  readonly attenuationStops?: number;
  /** How finely the ladder is divided; default thirds. */
  readonly series?: SeriesStep;
  readonly limits?: LadderLimits;
  /** Lens and hands, where the hand-held limit is to be worked out. */
  readonly handHeld?: HandHeld;
  /** What moves and the smear that is still good [px], where the longest shutter for it is to be worked out. */
  readonly subjectMotion?: SubjectMotion & { readonly blurPx: number };
}

export interface Equivalents {
  readonly ev100: number;
  readonly iso: IsoSetting;
  readonly attenuationStops: number;
  readonly compensationStops: number;
  /** From the widest aperture to the smallest. */
  readonly rungs: readonly LadderRung[];
  /** How many rungs hold every limit. */
  readonly usableCount: number;
  /** The lowest ISO mark at which some rung holds every limit; null where the limits exclude each other at any ISO. */
  readonly isoNeeded: IsoSetting | null;
  readonly assumptions: readonly Assumption[];
}

interface Checked {
  readonly limit: LadderLimit;
  /** What the limit is on: the opening alone, or the time, which another ISO can change. */
  readonly on: "aperture" | "shutter";
  /** Margin [stops] for an exact aperture and time. */
  readonly margin: (aperture: number, seconds: number) => number;
}

// Rounding of exact powers of two and nothing else
const SLACK_STOPS = 1e-9;

/**
 * The whole ladder of apertures and shutter times that give one exposure, and the limits that bind each rung: held by hand, moving
 * subject, wanted blur, diffraction, depth of field, and the shutter of the camera.
 * @param request light as in `solveExposure`; `iso` 1 to 1e7; `widestAperture` and `smallestAperture` [1] 0.5 to 256; `limits` as plain
 *   numbers, times [s] and f-numbers, read as marks where they are marks
 * @returns a rung for each mark of the ring, with its margin to each limit [stops] and the ISO that would bring it inside
 * @throws DomainError for values out of range, or a smallest aperture that is wider than the widest
 * Source: reciprocity of aperture and time, N²/t constant (APEX). Accuracy: that of the limits given.
 * Held by tests/core/exposure/equivalents.spec.ts.
 * @example listEquivalents({ ev100: 15, iso: 100, widestAperture: 8, smallestAperture: 16, series: "full" }).rungs.map((r) => r.shutter.nominal)
 *   // ["1/500 s", "1/250 s", "1/125 s"]
 */
export function listEquivalents(request: EquivalentsRequest): Equivalents {
  const { series = "third" } = request;
  const assumptions: Assumption[] = [];
  const ev100 = ev100OfReading(request, assumptions);
  const iso = readIso(request.iso);
  const compensationStops = requireInRange("compensationStops", request.compensationStops ?? 0, -15, 15, "stops");
  const attenuationStops = requireInRange("attenuationStops", request.attenuationStops ?? 0, 0, 40, "stops");
  const apertures = ringOf(request, series, assumptions);
  const checks = checksOf(workedOut(request), assumptions);

  const hundredfold = 2 ** (ev100 - compensationStops - attenuationStops) / 100;
  const rungs = apertures.map((aperture): LadderRung => {
    const seconds = (aperture.exact * aperture.exact) / (iso.exact * hundredfold);
    const limits = checks.map(({ limit, margin }): RungLimit => {
      const marginStops = margin(aperture.exact, seconds);
      return { limit, marginStops, holds: marginStops >= -SLACK_STOPS };
    });
    const tightest = limits.reduce<RungLimit | null>(
      (least, each) => (least === null || each.marginStops < least.marginStops ? each : least),
      null,
    );
    return {
      aperture,
      shutter: shutterSetting(seconds, "solved", series),
      limits,
      usable: limits.every(({ holds }) => holds),
      binding: tightest?.limit ?? null,
      isoNeeded: isoForRung(checks, aperture.exact, aperture.exact ** 2 / hundredfold, iso),
    };
  });

  const isos = rungs.map((rung) => rung.isoNeeded).filter((each) => each !== null);
  return {
    ev100,
    iso,
    attenuationStops,
    compensationStops,
    rungs,
    usableCount: rungs.filter(({ usable }) => usable).length,
    isoNeeded: isos.reduce<IsoSetting | null>((low, each) => (low && low.exact <= each.exact ? low : each), null),
    assumptions,
  };
}

function ringOf(request: EquivalentsRequest, series: SeriesStep, assumptions: Assumption[]): ApertureSetting[] {
  const end = (param: "widestAperture" | "smallestAperture", usual: number): number => {
    const typed = request[param];
    if (typed === undefined) {
      assumptions.push({ field: param, value: usual, why: "common among lenses" });
      return readAperture(usual).exact;
    }
    return readAperture(requireInRange(param, typed, 0.5, 256), undefined, param).exact;
  };
  const widest = end("widestAperture", 1.4);
  const smallest = end("smallestAperture", 22);
  if (!(smallest >= widest)) {
    const allowed = "an f-number no smaller than that of the widest aperture";
    throw new DomainError({ param: "smallestAperture", given: request.smallestAperture ?? 22, allowed });
  }
  const marks = apertureSeries(series).filter(
    ({ exact }) => exact >= widest * (1 - SLACK_STOPS) && exact <= smallest * (1 + SLACK_STOPS),
  );
  const ring = marks.map(({ exact }) => apertureSetting(exact, "mark", series));
  // a lens opens to its own widest aperture even where that is no mark of this series
  if (ring[0] === undefined || ring[0].exact > widest * (1 + SLACK_STOPS)) {
    ring.unshift(apertureSetting(widest, "value", series));
  }
  return ring;
}

/** The limits with those that are worked out from lens, hands and what moves. */
function workedOut({ limits = {}, handHeld, subjectMotion }: EquivalentsRequest): LadderLimits {
  const once = (param: "handHeldSeconds" | "subjectMotionSeconds", from: string): void => {
    const given = limits[param];
    if (given === undefined) return;
    throw new DomainError({ param: `limits.${param}`, given, allowed: `this or ${from}, not both` });
  };
  const found: { handHeldSeconds?: number; subjectMotionSeconds?: number } = {};
  if (handHeld !== undefined) {
    once("handHeldSeconds", "handHeld");
    found.handHeldSeconds = underPath("handHeld", () => handHeldLimitSeconds(handHeld));
  }
  if (subjectMotion !== undefined) {
    once("subjectMotionSeconds", "subjectMotion");
    const longest = underPath("subjectMotion", () => longestShutterForBlur(subjectMotion, subjectMotion.blurPx));
    if (longest.kind === "limited") found.subjectMotionSeconds = Math.min(1e7, Math.max(1e-6, longest.seconds));
  }
  return { ...limits, ...found };
}

function checksOf(limits: LadderLimits, assumptions: Assumption[]): Checked[] {
  const seconds = (param: keyof LadderLimits): number | undefined =>
    limits[param] === undefined ? undefined : readShutter(limits[param], undefined, `limits.${param}`).seconds;
  const aperture = (param: keyof LadderLimits): number | undefined =>
    limits[param] === undefined ? undefined : readAperture(limits[param], undefined, `limits.${param}`).exact;

  const checks: Checked[] = [];
  const noLongerThan = (limit: LadderLimit, most: number | undefined, slack = 0): void => {
    if (most !== undefined) checks.push({ limit, on: "shutter", margin: (_, t) => Math.log2(most / t) + slack });
  };
  const noShorterThan = (limit: LadderLimit, least: number | undefined, slack = 0): void => {
    if (least !== undefined) checks.push({ limit, on: "shutter", margin: (_, t) => Math.log2(t / least) + slack });
  };
  noLongerThan("hand-held", seconds("handHeldSeconds"));
  noLongerThan("subject-motion", seconds("subjectMotionSeconds"));
  noShorterThan("wanted-blur", seconds("wantedBlurSeconds"));
  const diffraction = aperture("diffractionAperture");
  if (diffraction !== undefined) {
    checks.push({ limit: "diffraction", on: "aperture", margin: (n) => 2 * Math.log2(diffraction / n) });
  }
  const depth = aperture("depthOfFieldAperture");
  if (depth !== undefined) {
    checks.push({ limit: "depth-of-field", on: "aperture", margin: (n) => 2 * Math.log2(n / depth) });
  }
  if (limits.fastestShutterSeconds === undefined) {
    const why = "1/8000 s is common among cameras";
    assumptions.push({ field: "limits.fastestShutterSeconds", value: USUAL_FASTEST_SECONDS, why });
  }
  noShorterThan("fastest-shutter", seconds("fastestShutterSeconds") ?? USUAL_FASTEST_SECONDS, MARK_SLACK_STOPS);
  noLongerThan("longest-shutter", seconds("longestShutterSeconds"), MARK_SLACK_STOPS);
  return checks;
}

/** The lowest ISO mark, at or above the one in use, that brings the shutter inside every limit on it. */
function isoForRung(
  checks: readonly Checked[],
  aperture: number,
  isoSeconds: number,
  inUse: IsoSetting,
): IsoSetting | null {
  if (checks.some(({ on, margin }) => on === "aperture" && margin(aperture, 1) < -SLACK_STOPS)) return null;
  const onShutter = checks.filter(({ on }) => on === "shutter");
  const holdsAt = (iso: number): boolean =>
    onShutter.every(({ margin }) => margin(aperture, isoSeconds / iso) >= -SLACK_STOPS);
  if (holdsAt(inUse.exact)) return inUse;
  const mark = isoSeries("third").find(({ exact }) => exact > inUse.exact && holdsAt(exact));
  return mark === undefined ? null : isoSetting(mark.exact, "solved");
}
