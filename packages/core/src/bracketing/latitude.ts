import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";

/** What one frame holds around the light that it is exposed for. */
export interface SensorLatitude {
  /** Stops above the metered value up to clipping. */
  readonly headroomStops: number;
  /** Stops below the metered value down to the noise floor. */
  readonly footroomStops: number;
}

/** What is known of a sensor. */
export interface LatitudeInput {
  /** Stops above the metered value up to clipping, 0 to 8. */
  readonly headroomStops?: number;
  /** Stops below the metered value down to the noise floor, 0 to 16; not together with `dynamicRangeStops`. */
  readonly footroomStops?: number;
  /** Measured range from clipping to the noise floor [stops], 1 to 20. */
  readonly dynamicRangeStops?: number;
  /** ISO at which the range was measured, as marked; default: the ISO in use. */
  readonly dynamicRangeIso?: number;
}

// ISO 12232: a saturation-based speed puts clipping at 78/10 of the metered exposure, 2.96 stops; 3 in round figures
const HEADROOM = {
  value: 3,
  most: 8,
  why: "ISO 12232 puts clipping 2.96 stops over the meter; measure your own sensor to do better",
};

// Common practice: six stops under the meter are still clean enough to be lifted in a blend
const FOOTROOM = {
  value: 6,
  most: 16,
  why: "common practice: clean down to six stops under the meter; measure your own sensor to do better",
};

/**
 * Compute what one frame holds, from what is known of the sensor: headroom to clipping and footroom to the noise floor. A measured range less the
 * headroom is the footroom; above the ISO that it was measured at it loses a stop for each doubling.
 * @param input `headroomStops` [stops] 0 to 8, `footroomStops` [stops] 0 to 16, `dynamicRangeStops` [stops] 1 to 20 at `dynamicRangeIso`
 * @param iso exact ISO in use; default that of the measurement
 * @param assumptions values taken by default are added to this list
 * @param path where the input stands in the request, for errors: `camera.`
 * @returns [stops]
 * @throws DomainError out of range, for footroom and range together, and `impossible` for a range that the headroom uses up
 * Source: ISO 12232 for the usual headroom; a stop for a doubling of ISO: common practice. Accuracy: defaults are guesses, ±1 stop.
 * Held by tests/core/bracketing/latitude.spec.ts.
 * @example sensorLatitude({ dynamicRangeStops: 11, headroomStops: 3 }) // { headroomStops: 3, footroomStops: 8 }
 */
export function sensorLatitude(
  input: LatitudeInput,
  iso?: number,
  assumptions: Assumption[] = [],
  path = "",
): SensorLatitude {
  const { dynamicRangeStops, dynamicRangeIso } = input;
  const known = (given: number | undefined, param: string, { value, most, why }: typeof HEADROOM): number => {
    if (given === undefined) assumptions.push({ field: param, value, why });
    return requireInRange(param, given ?? value, 0, most, "stops");
  };
  const headroomStops = known(input.headroomStops, `${path}headroomStops`, HEADROOM);
  if (dynamicRangeStops === undefined) {
    return { headroomStops, footroomStops: known(input.footroomStops, `${path}footroomStops`, FOOTROOM) };
  }
  if (input.footroomStops !== undefined) {
    const allowed = "footroomStops or dynamicRangeStops, not both";
    throw new DomainError({ param: `${path}footroomStops`, given: input.footroomStops, allowed });
  }
  requireInRange(`${path}dynamicRangeStops`, dynamicRangeStops, 1, 20, "stops");
  let lost = 0;
  if (dynamicRangeIso !== undefined) {
    requireInRange(`${path}dynamicRangeIso`, dynamicRangeIso, 1, 1e7);
    lost = iso === undefined ? 0 : Math.max(0, Math.log2(iso / dynamicRangeIso));
  }
  const footroomStops = dynamicRangeStops - lost - headroomStops;
  if (!(footroomStops >= 0)) {
    const allowed = `more than the headroom of ${headroomStops}${lost > 0 ? " and what the ISO takes" : ""}`;
    const param = `${path}dynamicRangeStops`;
    throw new DomainError({ code: "impossible", param, given: dynamicRangeStops, allowed, unit: "stops" });
  }
  return { headroomStops, footroomStops };
}
