import { type AngleOfViewRequest, angleOfView } from "@fieldstop/core/optics";
import { rounded } from "../rounding";

/** How much a lens takes in on a sensor. */
export function getAngleOfView(request: AngleOfViewRequest) {
  return rounded(angleOfView(request));
}
