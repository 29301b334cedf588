import { type ShutterSetting, shutterSetting } from "../exposure/settings";
import type { ShutterMoments } from "../exposure/shutter-moments";
import type { Assumption, Caution } from "../notes";
import { totalStops } from "./attenuation";
import type { FilterReading } from "./filter";
import { type ReachedOverTime, type ReachWindow, reachFinder } from "./reach";
import {
  type FilterSelectionRequest,
  type MeteredCurve,
  maxStackedOf,
  readKit,
  readLight,
  readWanted,
  requireWhole,
} from "./select-request";
import { type FilterWarning, readCameraLimits, stackWarnings } from "./stack-warnings";
import { subsetsUpTo } from "./subsets";
import { denseFilterCautions } from "./taken";

export interface FilterChoice {
  /** Positions in the kit, ascending; empty for no filter at all. */
  readonly filters: readonly number[];
  readonly marks: readonly string[];
  readonly attenuationStops: number;
  /** The time through these filters, at the instant chosen for. */
  readonly shutter: ShutterSetting;
  /** How much longer than wanted [stops], negative for shorter; 0 within a range. */
  readonly errorStops: number;
  /** Whether the time is within the tolerance, or the range. */
  readonly meets: boolean;
  readonly warnings: readonly FilterWarning[];
  /** When the wanted time is exactly right with these filters; present where the light is known over time and one time is wanted. */
  readonly moments?: ShutterMoments;
  /** The stretches of time in which these filters meet what is wanted; present where the light is known over time. */
  readonly windows?: readonly ReachWindow[];
}

export interface FilterSelection {
  /** What is wanted, exact; both ends the same for a single time. */
  readonly wanted: { readonly min: ShutterSetting; readonly max: ShutterSetting };
  readonly toleranceStops: number;
  /** The time without filters. */
  readonly baseShutter: ShutterSetting;
  /** The light at the instant chosen for [EV100]; present where it is known. */
  readonly ev100?: number;
  /** Best first: by error, then by number of filters, then without a polarizer. */
  readonly choices: readonly FilterChoice[];
  /** How many combinations were weighed, those of equal filters counted once. */
  readonly consideredCount: number;
  /** How many of them meet what is wanted at that instant. */
  readonly meetingCount: number;
  /** Filters of the kit that take no part, with the reason. */
  readonly leftOut: readonly { readonly filter: number; readonly reason: "graduated" }[];
  readonly cautions: readonly Caution[];
  readonly assumptions: readonly Assumption[];
}

// Past these the exposure functions have no answer
const MOST_STOPS = 40;
const LONGEST_SECONDS = 1e7;
// Errors closer than this are rounding, and count as equal
const SAME_STOPS = 1e-6;

/**
 * Select the filters of a kit that bring about a wanted shutter time, best first, and when in the course of the evening each combination does.
 * Graduated filters take no part, since they leave the ground's exposure alone; no combination has two polarizers.
 * @param request `filters`, 1 to 12; `wantedShutterSeconds` [s] or `wantedRangeSeconds` [s], 1e-6 to 1e7, read as marks where they are marks;
 *   the exposure without filters as `baseShutterSeconds` [s] (a mark likewise), or as `aperture` and `iso` with `ev100` [EV100] or `light`;
 *   `toleranceStops` [stops] 0 to 3; `maxStacked` 1 to 4; `maxChoices` 1 to 200
 * @returns combinations ranked by error [stops], then by number of filters; with a light curve the moments and the windows [Unix ms]
 * @throws DomainError out of range, for a kit of more than 12, or without a way to the time without filters; `impossible` for an instant
 *   outside the light curve
 * Source: as `stackFilters` and `whenShutterComesAbout`. Accuracy: ranking exact; moments as `whenShutterComesAbout`. Held against a search
 * of every subset in tests/core/filters/select.spec.ts.
 * @example selectFilters({ filters: [{ kind: "nd", stops: 3 }, { kind: "nd", stops: 6 }, { kind: "nd", stops: 10 }], baseShutterSeconds: 1 / 15,
 *   wantedShutterSeconds: 30 }).choices[0].marks // ["3 stops", "6 stops"]
 */
export function selectFilters(request: FilterSelectionRequest): FilterSelection {
  const assumptions: Assumption[] = [];
  const kit = readKit(request.filters, assumptions);
  const limits = readCameraLimits(request, assumptions);
  const { wanted, toleranceStops } = readWanted(request, assumptions);
  const { baseShutter, ev100, light } = readLight(request, assumptions);

  const combinations = kitCombinations(kit, maxStackedOf(request, assumptions));
  const ranked = rankCombinations(combinations, wanted, baseShutter);
  const meets = (errorStops: number): boolean => isWithin(errorStops, toleranceStops);

  const reach = overTime(light, wanted, toleranceStops, request.wantedShutterSeconds !== undefined);
  const maxChoices = requireWhole("maxChoices", request.maxChoices ?? 20, 200);
  const choices: FilterChoice[] = [];
  for (const { filters, attenuationStops, errorStops } of ranked.slice(0, maxChoices)) {
    const seconds = baseShutter.seconds * 2 ** attenuationStops;
    const on = filters.map((i) => kit[i] as FilterReading);
    choices.push({
      filters,
      marks: on.map(({ mark }) => mark),
      attenuationStops,
      shutter: shutterSetting(seconds, "solved"),
      errorStops,
      meets: meets(errorStops),
      warnings: stackWarnings(on, attenuationStops, limits, {
        shutterSeconds: seconds,
        ...(ev100 === undefined ? {} : { ev100 }),
      }),
      ...reach(attenuationStops),
    });
  }
  return {
    wanted,
    toleranceStops,
    baseShutter,
    ...(ev100 === undefined ? {} : { ev100 }),
    choices,
    consideredCount: ranked.length,
    meetingCount: ranked.filter(({ errorStops }) => meets(errorStops)).length,
    leftOut: kit.flatMap(({ kind }, filter) =>
      kind === "graduated" ? [{ filter, reason: "graduated" as const }] : [],
    ),
    cautions: denseFilterCautions(Math.max(...choices.map((choice) => choice.attenuationStops))),
    assumptions,
  };
}

/** Filters that can be on a lens at once. */
export interface Combination {
  /** Positions in the kit, ascending. */
  readonly filters: readonly number[];
  readonly attenuationStops: number;
  readonly polarizers: number;
}

interface RankedCombination extends Combination {
  readonly errorStops: number;
  readonly rank: number;
}

/** The combinations of a kit; graduated filters take no part. */
export function kitCombinations(kit: readonly FilterReading[], maxStacked: number): Combination[] {
  const whole = kit.flatMap(({ kind }, i) => (kind === "graduated" ? [] : [i]));
  return distinctCombinations(kit, whole, maxStacked).map((filters) => ({
    filters,
    attenuationStops: totalStops(filters.map((i) => (kit[i] as FilterReading).attenuationStops)),
    polarizers: filters.filter((i) => (kit[i] as FilterReading).kind === "polarizer").length,
  }));
}

/** The combinations that a time without filters leaves room for, best first. */
export function rankCombinations(
  combinations: readonly Combination[],
  { min, max }: FilterSelection["wanted"],
  baseShutter: ShutterSetting,
): RankedCombination[] {
  const shortestStops = Math.log2(min.seconds / baseShutter.seconds);
  const longestStops = Math.log2(max.seconds / baseShutter.seconds);
  const maxStops = Math.min(MOST_STOPS, Math.log2(LONGEST_SECONDS / baseShutter.seconds));
  return combinations
    .filter(({ attenuationStops }) => attenuationStops <= maxStops)
    .map(({ filters, attenuationStops, polarizers }) => {
      const errorStops = Math.max(attenuationStops - longestStops, 0) + Math.min(attenuationStops - shortestStops, 0);
      return { filters, attenuationStops, polarizers, errorStops, rank: Math.round(Math.abs(errorStops) / SAME_STOPS) };
    })
    .sort((a, b) => a.rank - b.rank || a.filters.length - b.filters.length || a.polarizers - b.polarizers);
}

/** Whether an error [stops] is within a tolerance, give or take rounding. */
export function isWithin(errorStops: number, toleranceStops: number): boolean {
  return Math.abs(errorStops) <= toleranceStops + SAME_STOPS;
}

/** When each attenuation brings about what is wanted; nothing where the light is not known over time. */
function overTime(
  light: MeteredCurve | undefined,
  { min, max }: FilterSelection["wanted"],
  toleranceStops: number,
  isSingle: boolean,
): (attenuationStops: number) => ReachedOverTime | undefined {
  if (light === undefined) return () => undefined;
  return reachFinder(light.curve, light, {
    min: min.seconds * 2 ** -toleranceStops,
    max: max.seconds * 2 ** toleranceStops,
    ...(isSingle ? { target: min.seconds } : {}),
  });
}

/** Combinations that can be on a lens at once, those that differ only in which of two equal filters they take counted once. */
function distinctCombinations(kit: readonly FilterReading[], usable: readonly number[], most: number): number[][] {
  const seen = new Set<string>();
  return subsetsUpTo(usable.length, most)
    .map((subset) => subset.map((i) => usable[i] as number))
    .filter((filters) => {
      const on = filters.map((i) => kit[i] as FilterReading);
      if (on.filter(({ kind }) => kind === "polarizer").length > 1) return false;
      const key = on
        .map(({ kind, attenuationStops }) => `${kind} ${attenuationStops}`)
        .sort()
        .join(", ");
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}
