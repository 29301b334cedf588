import { type DepthOfFieldRequest, depthOfField } from "@fieldstop/core/optics";
import { rounded } from "../rounding";

/** What is sharp, and where to focus. */
export function getDepthOfField(request: DepthOfFieldRequest) {
  return rounded(depthOfField(request));
}
