import { DomainError } from "../domain-error";
import type { Assumption } from "../notes";
import { requireEv100 } from "./exposure-value";
import { ev100FromIlluminance, ev100FromLuminance, type IncidentReceptor, METER_CONSTANT_C } from "./metering";

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

const WAYS = "exactly one of ev100, luminanceCdPerM2 and illuminanceLux";

/**
 * The light of a meter reading as EV100, whichever way it was read.
 * @param reading one of `ev100` [EV100], `luminanceCdPerM2` [cd/m²], `illuminanceLux` [lx], with the meter's constants
 * @param assumptions constants that were taken by default are added to this list
 * @returns [EV100], -40 to 40
 * @throws DomainError for none or several, and for values outside their ranges
 * Source: ISO 2720:1974. Held by the golden rows `evlum`, `evlux` and `meter`.
 * @example ev100OfReading({ illuminanceLux: 80000 }) // 14.97
 */
export function ev100OfReading(reading: MeterReading, assumptions: Assumption[] = []): number {
  const { ev100, luminanceCdPerM2, illuminanceLux } = reading;
  if (ev100 !== undefined) {
    if (luminanceCdPerM2 !== undefined) throw oneWay("luminanceCdPerM2", luminanceCdPerM2);
    if (illuminanceLux !== undefined) throw oneWay("illuminanceLux", illuminanceLux);
    return requireEv100("ev100", ev100);
  }
  if (luminanceCdPerM2 !== undefined) {
    if (illuminanceLux !== undefined) throw oneWay("illuminanceLux", illuminanceLux);
    if (reading.meterConstantK === undefined) {
      assumptions.push({ field: "meterConstantK", value: 12.5, why: "the reflected-light constant in common use" });
    }
    const light = ev100FromLuminance(luminanceCdPerM2, reading.meterConstantK);
    return withinRange("luminanceCdPerM2", luminanceCdPerM2, light);
  }
  if (illuminanceLux === undefined) throw oneWay("ev100", undefined);
  const receptor = reading.receptor ?? "flat";
  const usual = METER_CONSTANT_C[receptor];
  const constantC = reading.meterConstantC ?? usual.default;
  if (reading.receptor !== undefined && !(constantC >= usual.min && constantC <= usual.max)) {
    const allowed = `${usual.min} to ${usual.max} for a ${receptor} receptor`;
    throw new DomainError({ param: "meterConstantC", given: constantC, allowed, unit: "lx s" });
  }
  if (reading.meterConstantC === undefined) {
    const why = `the incident-light constant in common use for a ${receptor} receptor`;
    assumptions.push({ field: "meterConstantC", value: constantC, why });
  }
  return withinRange("illuminanceLux", illuminanceLux, ev100FromIlluminance(illuminanceLux, constantC));
}

function oneWay(param: string, given: unknown): DomainError {
  return new DomainError({ param, given, allowed: WAYS });
}

/** A light beyond the range of EV100 is reported under the field that gave it. */
function withinRange(param: string, given: number, ev100: number): number {
  if (!(ev100 >= -40 && ev100 <= 40)) throw new DomainError({ param, given, allowed: "a light from EV100 -40 to 40" });
  return ev100;
}
