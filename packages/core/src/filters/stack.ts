import { DomainError } from "../domain-error";
import { type ShutterSetting, shutterSetting } from "../exposure/settings";
import type { Assumption, Caution } from "../notes";
import { type Attenuation, attenuationFromStops, totalStops } from "./attenuation";
import { type BaseExposure, readBaseExposure } from "./base-exposure";
import type { Filter, FilterReading } from "./filter";
import { type FilteredCamera, type FilterWarning, readCameraLimits, stackWarnings } from "./stack-warnings";
import { takenByFilters } from "./taken";

export interface FilterStackRequest extends BaseExposure, FilteredCamera {
  /** The filters on the lens, up to 10, in any order. */
  readonly filters: readonly Filter[];
}

export interface FilterStack extends Omit<Attenuation, "stops"> {
  /** What the stack takes from the whole frame, and so from the exposure of the ground [stops]. */
  readonly attenuationStops: number;
  /** What the stack is sold as, filter by filter [stops]: 16 for an ND1000 and an ND64. */
  readonly markedStops: number;
  /** What graduated filters take from the sky besides [stops]. */
  readonly graduatedStops: number;
  /** What the sky loses in all [stops]. */
  readonly skyAttenuationStops: number;
  /** In the order given. */
  readonly filters: readonly FilterReading[];
  /** The time without filters; present where it is known. */
  readonly baseShutter?: ShutterSetting;
  /** The time through the filters; present where the time without is known. */
  readonly shutter?: ShutterSetting;
  /** The light [EV100]; present where it is known. */
  readonly ev100?: number;
  readonly warnings: readonly FilterWarning[];
  readonly cautions: readonly Caution[];
  readonly assumptions: readonly Assumption[];
}

// Longest time that core answers for, as in the exposure functions
const LONGEST_SECONDS = 1e7;

/**
 * Compute what a stack of filters takes, and the shutter time through it. Stops add, densities add, factors multiply, whatever the order. A graduated
 * filter leaves the ground's exposure alone: what it takes from the sky is given apart.
 * @param request `filters`, up to 10, 40 stops together; `baseShutterSeconds` [s] 1e-6 to 1e7, the time without filters, multiplied as it is;
 *   or `ev100` [EV100] with `aperture` [1] and `iso`; for the warnings `maxShutterSeconds` [s], `meteringLimitEv100` [EV100],
 *   `focalLengthMm` [mm] 1 to 10,000 and `cropFactor` [1]
 * @returns attenuation in stops, density, factor and per cent; the time exact and as the nearest mark; warnings
 * @throws DomainError out of range; `impossible` for more than 40 stops together, or a time past 10,000,000 s
 * Source: density is a logarithm, ISO 5-1:2009; t·2^stops. Accuracy: that of the machine on exact values, to the last bit the same in any
 * order; held by the golden rows `stack` and `nd`, and by tests/core/filters/stack.spec.ts.
 * @example stackFilters({ filters: [{ kind: "nd", stops: 6 }, { kind: "nd", stops: 4 }], baseShutterSeconds: 1 / 128 }).shutter.nominal // "8 s"
 */
export function stackFilters(request: FilterStackRequest): FilterStack {
  const assumptions: Assumption[] = [];
  const { filters, attenuationStops, graduatedStops, cautions } = takenByFilters(request.filters, assumptions);
  const { density, factor, transmittancePercent } = attenuationFromStops(attenuationStops);
  const whole = filters.filter(({ kind }) => kind !== "graduated");

  const base = readBaseExposure(request, "values");
  const seconds = base.shutter === undefined ? undefined : base.shutter.seconds * factor;
  if (seconds !== undefined && !(seconds <= LONGEST_SECONDS)) {
    const allowed = "filters and a light that ask for at most 10,000,000 s";
    throw new DomainError({ code: "impossible", param: "filters", given: seconds, allowed });
  }
  const limits = readCameraLimits(request, assumptions);
  return {
    attenuationStops,
    markedStops: totalStops(whole.map((filter) => filter.markedStops)),
    density,
    factor,
    transmittancePercent,
    graduatedStops,
    skyAttenuationStops: attenuationStops + graduatedStops,
    filters,
    ...(base.shutter === undefined ? {} : { baseShutter: base.shutter }),
    ...(seconds === undefined ? {} : { shutter: shutterSetting(seconds, "solved") }),
    ...(base.ev100 === undefined ? {} : { ev100: base.ev100 }),
    warnings: stackWarnings(filters, attenuationStops, limits, { shutterSeconds: seconds, ev100: base.ev100 }),
    cautions,
    assumptions,
  };
}
