import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type LongExposureAsked, longExposureFor } from "./long-exposure";

/** The shutter time that gathers the light while the light changes. */
export function solveLongExposure(surroundings: Surroundings, asked: LongExposureAsked) {
  return rounded(longExposureFor(surroundings, asked));
}
