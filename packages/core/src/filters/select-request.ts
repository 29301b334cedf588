import { DomainError, requireInRange } from "../domain-error";
import { ev100OnCurve, type LightCurve, shiftLightCurve } from "../exposure/light-curve";
import { readShutter, type ShutterSetting } from "../exposure/settings";
import type { Assumption } from "../notes";
import { type BaseExposure, readBaseExposure } from "./base-exposure";
import { type Filter, type FilterReading, readFilter } from "./filter";
import type { FilteredCamera } from "./stack-warnings";

export interface FilterSelectionRequest extends BaseExposure, FilteredCamera {
  /** The kit: 1 to 12 filters. */
  readonly filters: readonly Filter[];
  /** A shutter time that is wanted, as typed [s]. Either this or a range. */
  readonly wantedShutterSeconds?: number;
  /** A range of times that will do, as typed [s]. */
  readonly wantedRangeSeconds?: { readonly min: number; readonly max: number };
  /** How far from a single wanted time still counts as meeting it [stops], 0 to 3; default 0.5. */
  readonly toleranceStops?: number;
  /** How the light goes; needs `aperture` and `iso`. The base exposure, where given, is what a meter reads at `atMs`. */
  readonly light?: LightCurve;
  /** The instant that the choices are made for [Unix ms], within the light; default: where it begins. */
  readonly atMs?: number;
  /** Most filters on the lens at once, 1 to 4; default 3. */
  readonly maxStacked?: number;
  /** Most choices in the answer, 1 to 200; default 20. */
  readonly maxChoices?: number;
}

/** Times that will do, exact, with how far beyond them still counts. */
export interface WantedShutter {
  readonly wanted: { readonly min: ShutterSetting; readonly max: ShutterSetting };
  readonly toleranceStops: number;
}

/** A light curve that agrees with the meter, and the settings that go with it. */
export interface MeteredCurve {
  readonly curve: LightCurve;
  readonly aperture: number;
  readonly iso: number;
}

/** The exposure before filters at the instant chosen for, and the light over time where it is known. */
export interface SelectionLight {
  readonly baseShutter: ShutterSetting;
  readonly ev100?: number;
  readonly light?: MeteredCurve;
}

const MAX_FILTERS = 12;
// Common practice: three in a holder; a fourth shows in the corners and in the flare
export const USUAL_MAX_STACKED = 3;
// Our own choice: half a stop of time is hardly seen in water or cloud
export const USUAL_TOLERANCE_STOPS = 0.5;
/** The kit, each filter counted in stops. */
export function readKit(filters: readonly Filter[], assumptions: Assumption[]): FilterReading[] {
  // judged before any filter is read: the work doubles with each
  if (!(filters.length >= 1 && filters.length <= MAX_FILTERS)) {
    throw new DomainError({ param: "filters", given: filters.length, allowed: `1 to ${MAX_FILTERS} filters` });
  }
  return filters.map((filter, i) => readFilter(filter, `filters.${i}`, assumptions));
}

/** How many filters may be on the lens at once; the usual number is noted when it is taken. */
export function maxStackedOf({ maxStacked }: FilterSelectionRequest, assumptions: Assumption[]): number {
  if (maxStacked === undefined) {
    const why = "common practice: three filters fit a holder";
    assumptions.push({ field: "maxStacked", value: USUAL_MAX_STACKED, why });
  }
  return requireWhole("maxStacked", maxStacked ?? USUAL_MAX_STACKED, 4);
}

/** The times that will do: one with a tolerance, or a range. */
export function readWanted(request: FilterSelectionRequest, assumptions: Assumption[]): WantedShutter {
  const { wantedShutterSeconds, wantedRangeSeconds, toleranceStops } = request;
  if ((wantedShutterSeconds === undefined) === (wantedRangeSeconds === undefined)) {
    const allowed = "exactly one of wantedShutterSeconds and wantedRangeSeconds";
    throw new DomainError({ param: "wantedShutterSeconds", given: wantedShutterSeconds, allowed });
  }
  if (wantedRangeSeconds !== undefined) {
    const end = (which: "min" | "max"): ShutterSetting =>
      readShutter(wantedRangeSeconds[which], undefined, `wantedRangeSeconds.${which}`);
    const wanted = { min: end("min"), max: end("max") };
    if (!(wanted.min.seconds <= wanted.max.seconds)) {
      const allowed = "no longer than the longest time";
      throw new DomainError({ param: "wantedRangeSeconds.min", given: wantedRangeSeconds.min, allowed });
    }
    return { wanted, toleranceStops: requireInRange("toleranceStops", toleranceStops ?? 0, 0, 3, "stops") };
  }
  const shutter = readShutter(wantedShutterSeconds as number, undefined, "wantedShutterSeconds");
  if (toleranceStops === undefined) {
    const why = "half a stop of time is hardly seen in water or cloud";
    assumptions.push({ field: "toleranceStops", value: USUAL_TOLERANCE_STOPS, why });
  }
  const tolerance = requireInRange("toleranceStops", toleranceStops ?? USUAL_TOLERANCE_STOPS, 0, 3, "stops");
  return { wanted: { min: shutter, max: shutter }, toleranceStops: tolerance };
}

/** The exposure before filters: from a time, from the light, or from a light curve that is moved to agree with the meter. */
export function readLight(request: FilterSelectionRequest, assumptions: Assumption[]): SelectionLight {
  const { light, aperture, iso, atMs } = request;
  if (light === undefined) {
    if (atMs !== undefined) throw new DomainError({ param: "atMs", given: atMs, allowed: "only with a light curve" });
    const { shutter, ev100 } = readBaseExposure(request, "marks");
    if (shutter === undefined) {
      const allowed = "a time, or aperture and iso with ev100 or a light curve";
      throw new DomainError({ param: "baseShutterSeconds", given: undefined, allowed });
    }
    return ev100 === undefined ? { baseShutter: shutter } : { baseShutter: shutter, ev100 };
  }
  if (aperture === undefined || iso === undefined) {
    const param = aperture === undefined ? "aperture" : "iso";
    throw new DomainError({ param, given: undefined, allowed: "aperture and iso, where the light is given over time" });
  }
  if (atMs === undefined) {
    const value = new Date(light.startMs).toISOString();
    assumptions.push({ field: "atMs", value, why: "choices are ranked for the instant at which the light begins" });
  }
  const modelled = ev100OnCurve(light, atMs ?? light.startMs, "atMs");
  const metered = request.baseShutterSeconds !== undefined || request.ev100 !== undefined;
  const { shutter, ev100 } = readBaseExposure(
    metered ? request : Object.assign({}, request, { ev100: modelled }),
    "marks",
  );
  const settled = { curve: shiftLightCurve(light, (ev100 as number) - modelled), aperture, iso };
  return { baseShutter: shutter as ShutterSetting, ev100: ev100 as number, light: settled };
}

/** Returns `value` when it is a whole number from 1 to `most`. */
export function requireWhole(param: string, value: number, most: number): number {
  if (!(Number.isInteger(value) && value >= 1 && value <= most)) {
    throw new DomainError({ param, given: value, allowed: `a whole number from 1 to ${most}` });
  }
  return value;
}
