import { requireInRange } from "../domain-error";
import { apertureSeries, nearestApertureMark } from "../exposure/nominal-series";
import { type ApertureSetting, apertureSetting, readAperture } from "../exposure/settings";
import type { Assumption } from "../notes";
import type { Diffraction } from "./camera-optics";
import { apertureForLimits, type Distance, focusBetweenM, type SharpLimits, type ThinLens } from "./thin-lens";

/** What should be sharp. */
export interface WantedSharp {
  readonly nearM: number;
  readonly farM: Distance;
}

/**
 * What it takes to have a range sharp: `covered`, it is already; `refocus`, at this aperture from another focus; `stop-down`, at a smaller
 * opening; `focus-stack`, only from several frames, as the opening would be past the lens or past diffraction.
 */
export interface FocusForWanted {
  readonly kind: "covered" | "refocus" | "stop-down" | "focus-stack";
  /** Where both ends are equally sharp [m]. */
  readonly focusDistanceM: number;
  /** The exact f-number that just holds both ends from there [1]. */
  readonly apertureNeeded: number;
  /** The first mark that holds them. */
  readonly aperture: ApertureSetting;
}

// Common practice: the smallest opening of most lenses for full frame and smaller
const USUAL_SMALLEST_APERTURE = 22;
// Rounding of distances and nothing else
const SLACK = 1e-9;

/** What it takes to have a range sharp, from the limits as they are now. */
export function focusForWanted(
  lens: ThinLens,
  wanted: WantedSharp,
  limits: SharpLimits,
  diffraction: Diffraction,
  maxFNumber: number | undefined,
  assumptions: Assumption[],
): FocusForWanted {
  if (maxFNumber === undefined) {
    const why = "common among lenses";
    assumptions.push({ field: "maxFNumber", value: USUAL_SMALLEST_APERTURE, why });
  }
  const typed = requireInRange("maxFNumber", maxFNumber ?? USUAL_SMALLEST_APERTURE, 0.5, 256);
  const smallest = readAperture(typed, undefined, "maxFNumber").exact;
  const apertureNeeded = apertureForLimits(lens, wanted.nearM, wanted.farM);
  const farEnough =
    limits.far.kind === "infinity" || (wanted.farM !== "infinity" && limits.far.distanceM >= wanted.farM * (1 - SLACK));
  const kind = ((): FocusForWanted["kind"] => {
    if (farEnough && limits.nearM <= wanted.nearM * (1 + SLACK)) return "covered";
    if (apertureNeeded <= lens.aperture * (1 + SLACK)) return "refocus";
    const most = Math.min(smallest, diffraction.apertureAtCircleOfConfusion);
    return apertureNeeded <= most * (1 + SLACK) ? "stop-down" : "focus-stack";
  })();
  return {
    kind,
    focusDistanceM: focusBetweenM(wanted.nearM, wanted.farM),
    apertureNeeded,
    aperture: markThatHolds(apertureNeeded),
  };
}

function markThatHolds(aperture: number): ApertureSetting {
  const mark =
    apertureSeries("third").find(({ exact }) => exact >= aperture * (1 - SLACK)) ?? nearestApertureMark(aperture);
  return apertureSetting(mark.exact, "solved");
}
