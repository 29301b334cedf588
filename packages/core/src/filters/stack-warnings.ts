import { requireInRange } from "../domain-error";
import { requireEv100 } from "../exposure/exposure-value";
import { readShutter, shutterSetting } from "../exposure/settings";
import { isPastLongest, USUAL_LONGEST_SECONDS } from "../exposure/shutter-limits";
import type { Assumption } from "../notes";
import type { FilterReading } from "./filter";

export type FilterWarningCode = "needs-bulb" | "past-metering-range" | "wide-lens-stack" | "two-polarizers";

/** What may go wrong with filters on the lens. The code is stable; the text is for people. */
export interface FilterWarning {
  readonly code: FilterWarningCode;
  readonly text: string;
}

/** The camera that the filters go on. */
export interface FilteredCamera {
  /** Longest time that the camera counts by itself, as marked [s]; default 30 s. */
  readonly maxShutterSeconds?: number;
  /** Darkest light that the camera meters [EV100]; default -3. */
  readonly meteringLimitEv100?: number;
  /** Not given: stacking is not judged. */
  readonly focalLengthMm?: number;
  /** Diagonal of full frame over that of the sensor [1]; default 1. */
  readonly cropFactor?: number;
}

/** A camera's limits, read and with the usual values where none were given. */
export interface CameraLimits {
  readonly longest: { readonly seconds: number; readonly nominal: string };
  readonly meteringLimitEv100: number;
  /** Full-frame equivalent [mm]. */
  readonly equivalentMm?: number;
}

// Common practice: EV -3 at ISO 100 is a usual lower end of the metering range of cameras with a fast lens; some reach lower
const USUAL_METERING_LIMIT_EV100 = -3;

// Wikipedia "Exposure value", table 2: sunlit snow or sand, the brightest daylight scene
const BRIGHTEST_DAYLIGHT_EV100 = 16;

// Common practice: two standard rings start to darken the corners at about 24 mm (full frame), three at about 35 mm
const WIDEST_FOR_STACK_MM = [
  { filters: 3, equivalentMm: 35 },
  { filters: 2, equivalentMm: 24 },
];

/** Reads the camera's limits; values taken by default are added to `assumptions`. */
export function readCameraLimits(camera: FilteredCamera, assumptions: Assumption[]): CameraLimits {
  const { maxShutterSeconds, meteringLimitEv100, focalLengthMm, cropFactor } = camera;
  if (meteringLimitEv100 === undefined) {
    const why = "common practice: many cameras meter down to about EV -3";
    assumptions.push({ field: "meteringLimitEv100", value: USUAL_METERING_LIMIT_EV100, why });
  }
  const limits = {
    longest:
      maxShutterSeconds === undefined
        ? shutterSetting(USUAL_LONGEST_SECONDS, "value")
        : readShutter(maxShutterSeconds, undefined, "maxShutterSeconds"),
    meteringLimitEv100: requireEv100("meteringLimitEv100", meteringLimitEv100 ?? USUAL_METERING_LIMIT_EV100),
  };
  if (cropFactor !== undefined) requireInRange("cropFactor", cropFactor, 0.1, 20);
  if (focalLengthMm === undefined) return limits;
  if (cropFactor === undefined) assumptions.push({ field: "cropFactor", value: 1, why: "full frame" });
  const equivalentMm = requireInRange("focalLengthMm", focalLengthMm, 1, 1e4, "mm") * (cropFactor ?? 1);
  return { equivalentMm, ...limits };
}

/**
 * What may go wrong with these filters together.
 * @param filters the filters on the lens
 * @param attenuationStops what they take from the whole frame [stops]
 * @param use shutter time through them [s] and light before them [EV100], where known
 */
export function stackWarnings(
  filters: readonly FilterReading[],
  attenuationStops: number,
  limits: CameraLimits,
  use: { readonly shutterSeconds?: number | undefined; readonly ev100?: number | undefined },
): FilterWarning[] {
  const { longest, meteringLimitEv100, equivalentMm } = limits;
  const warnings: FilterWarning[] = [];
  if (use.shutterSeconds !== undefined && isPastLongest(use.shutterSeconds, longest.seconds)) {
    const text = `Longer than the ${longest.nominal} that the camera counts by itself: use bulb with a timer.`;
    warnings.push({ code: "needs-bulb", text });
  }
  // where the light is not known, only what is too dark in any daylight is said
  if ((use.ev100 ?? BRIGHTEST_DAYLIGHT_EV100) - attenuationStops < meteringLimitEv100) {
    const text = "Too dark through the filters for meter and autofocus: meter and focus first, then put them on.";
    warnings.push({ code: "past-metering-range", text });
  }
  const tight = WIDEST_FOR_STACK_MM.find(({ filters: most }) => filters.length >= most);
  if (tight !== undefined && equivalentMm !== undefined && equivalentMm <= tight.equivalentMm) {
    const text = `${filters.length} filters on a lens this wide can darken the corners: use a wider holder, or fewer filters.`;
    warnings.push({ code: "wide-lens-stack", text });
  }
  if (filters.filter(({ kind }) => kind === "polarizer").length > 1) {
    const text =
      "Two polarizers take anything from a little to nearly all light as they are turned: the sum does not hold.";
    warnings.push({ code: "two-polarizers", text });
  }
  return warnings;
}
