import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import type { SeriesStep } from "./dial";
import { checksOf, type LadderCheck, type LadderLimit, type LadderLimitsInput } from "./ladder-limits";
import { ev100OfReading, type MeterReading } from "./meter-reading";
import { apertureSeries, isoSeries } from "./nominal-series";
import {
  type ApertureSetting,
  apertureSetting,
  type IsoSetting,
  isoSetting,
  readAperture,
  readIso,
  type ShutterSetting,
  shutterSetting,
} from "./settings";

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

export interface EquivalentsRequest extends MeterReading, LadderLimitsInput {
  /** ISO as typed; a mark is read as what it stands for. */
  readonly iso: number;
  /** Widest aperture of the lens, as marked; default f/1.4. */
  readonly minFNumber?: number;
  /** Smallest aperture of the lens, as marked; default f/22. */
  readonly maxFNumber?: number;
  /** Exposure beyond what the meter says [stops], -15 to 15; default 0. */
  readonly compensationStops?: number;
  /** Light that filters take away [stops], 0 to 40; default 0. */
  readonly attenuationStops?: number;
  /** How finely the ladder is divided; default thirds. */
  readonly series?: SeriesStep;
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

// Rounding of exact powers of two and nothing else
const SLACK_STOPS = 1e-9;

// Longest time that core answers for, as in `solveExposure`
const LONGEST_SECONDS = 1e7;

/**
 * List the whole ladder of apertures and shutter times that give one exposure, and the limits that bind each rung: held by hand, moving
 * subject, wanted blur, diffraction, depth of field, and the shutter of the camera.
 * @param request light as in `solveExposure`; `iso` 1 to 1e7; `minFNumber` and `maxFNumber` [1] 0.5 to 256; `limits` as plain
 *   numbers, times [s] and f-numbers, read as marks where they are marks
 * @returns a rung for each mark of the ring, with its margin to each limit [stops] and the ISO that would bring it inside
 * @throws DomainError for values out of range, or a smallest aperture that is wider than the widest; `impossible` for more than 10,000,000 s
 * Source: reciprocity of aperture and time, N²/t constant (APEX). Accuracy: that of the limits given.
 * Held by tests/core/exposure/equivalents.spec.ts.
 * @example listEquivalents({ ev100: 15, iso: 100, minFNumber: 8, maxFNumber: 16, series: "full" }).rungs.map((r) => r.shutter.nominal)
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
  const checks = checksOf(request, assumptions);

  const hundredfold = 2 ** (ev100 - compensationStops - attenuationStops) / 100;
  const shortest = (apertures[0] as ApertureSetting).exact ** 2 / (iso.exact * hundredfold);
  if (!(shortest <= LONGEST_SECONDS)) {
    const allowed = "a light, ISO and filters that ask for at most 10,000,000 s at the widest aperture";
    throw new DomainError({ code: "impossible", param: "iso", given: request.iso, allowed });
  }
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
  const end = (param: "minFNumber" | "maxFNumber", usual: number): number => {
    const typed = request[param];
    if (typed === undefined) {
      assumptions.push({ field: param, value: usual, why: "common among lenses" });
      return readAperture(usual).exact;
    }
    return readAperture(requireInRange(param, typed, 0.5, 256), undefined, param).exact;
  };
  const widest = end("minFNumber", 1.4);
  const smallest = end("maxFNumber", 22);
  if (!(smallest >= widest)) {
    const allowed = "an f-number no smaller than that of the widest aperture";
    throw new DomainError({ param: "maxFNumber", given: request.maxFNumber ?? 22, allowed });
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

/** The lowest ISO mark, at or above the one in use, that brings the shutter inside every limit on it. */
function isoForRung(
  checks: readonly LadderCheck[],
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
