import { DomainError } from "../domain-error";
import type { Assumption } from "../notes";
import { EV100_RANGE, requireEv100 } from "./exposure-value";
import {
  ev100FromIlluminance,
  ev100FromLuminance,
  type IncidentReceptor,
  METER_CONSTANT_C,
  METER_CONSTANT_K,
} from "./metering";

/** The light, in exactly one of three ways, and the meter that read it. */
export interface MeterReading {
  /** Light as EV at ISO 100, -40 to 40. */
  readonly ev100?: number;
  /** Mean luminance of the subject [cd/m²], greater than 0. */
  readonly luminanceCdPerM2?: number;
  /** Illuminance on the subject [lx], greater than 0. */
  readonly illuminanceLux?: number;
  /** Reflected-light calibration constant K [cd s/m²], 10.6 to 13.4; default 12.5. */
  readonly meterConstantK?: number;
  /** Incident-light calibration constant C [lx s], 240 to 540; default by the receptor: 250 flat, 330 hemispherical. */
  readonly meterConstantC?: number;
  /** Default flat. */
  readonly receptor?: IncidentReceptor;
}

const WAYS = ["ev100", "luminanceCdPerM2", "illuminanceLux"] as const;

/**
 * Convert a meter reading to EV100, whichever way it was read.
 * @param reading one of `ev100` [EV100], `luminanceCdPerM2` [cd/m²], `illuminanceLux` [lx], with the meter's constants
 * @param assumptions constants that were taken by default are added to this list
 * @returns [EV100], -40 to 40
 * @throws DomainError for none or several, and for values outside their ranges
 * Source: ISO 2720:1974. Held by the golden rows `evlum`, `evlux` and `meter`.
 * @example ev100OfReading({ illuminanceLux: 80000 }) // 14.97
 */
export function ev100OfReading(reading: MeterReading, assumptions: Assumption[] = []): number {
  let way: (typeof WAYS)[number] | undefined;
  for (const each of WAYS) {
    if (reading[each] === undefined) continue;
    if (way !== undefined) throw notOneWay(each, reading[each]);
    way = each;
  }
  if (way === undefined) throw notOneWay("ev100", undefined);
  const given = reading[way] as number;
  if (way === "ev100") return requireEv100(way, given);
  const light =
    way === "illuminanceLux" ? incident(given, reading, assumptions) : reflected(given, reading, assumptions);
  // a light beyond the range of EV100 is reported under the field that gave it
  if (light >= EV100_RANGE.min && light <= EV100_RANGE.max) return light;
  throw new DomainError({ param: way, given, allowed: `a light from EV100 ${EV100_RANGE.min} to ${EV100_RANGE.max}` });
}

function notOneWay(param: string, given: unknown): DomainError {
  return new DomainError({ param, given, allowed: "exactly one of ev100, luminanceCdPerM2 and illuminanceLux" });
}

function reflected(luminanceCdPerM2: number, { meterConstantK }: MeterReading, assumptions: Assumption[]): number {
  const { default: value } = METER_CONSTANT_K;
  if (meterConstantK === undefined) {
    assumptions.push({ field: "meterConstantK", value, why: "in common use for reflected light" });
  }
  return ev100FromLuminance(luminanceCdPerM2, meterConstantK);
}

function incident(lux: number, { receptor, meterConstantC }: MeterReading, assumptions: Assumption[]): number {
  const { default: value, min, max } = METER_CONSTANT_C[receptor ?? "flat"];
  if (meterConstantC === undefined) {
    assumptions.push({ field: "meterConstantC", value, why: `in common use for a ${receptor ?? "flat"} receptor` });
  } else if (receptor !== undefined && !(meterConstantC >= min && meterConstantC <= max)) {
    const allowed = `${min} to ${max} for a ${receptor} receptor`;
    throw new DomainError({ param: "meterConstantC", given: meterConstantC, allowed, unit: "lx s" });
  }
  return ev100FromIlluminance(lux, meterConstantC ?? value);
}
