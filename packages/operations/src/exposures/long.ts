import type { Dependencies } from "../dependencies";
import { rounded } from "../rounding";
import { type LongExposureRequest, longExposureFor } from "./long-exposure";

/** The shutter time that gathers the light while the light changes. */
export function solveLongExposure(dependencies: Dependencies, request: LongExposureRequest) {
  return rounded(longExposureFor(dependencies, request));
}
