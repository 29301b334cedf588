import {
  type AngleOfViewRequest,
  angleOfView,
  type DepthOfFieldRequest,
  depthOfField,
  type FocusStackRequest,
  planFocusStack as focusStack,
  type PanoramaRequest,
  planPanorama as panorama,
} from "@fieldstop/core/optics";
import { rounded } from "./rounding";

/** How much a lens takes in on a sensor. */
export function getAngleOfView(request: AngleOfViewRequest) {
  return rounded(angleOfView(request));
}

/** What is sharp, and where to focus. */
export function getDepthOfField(request: DepthOfFieldRequest) {
  return rounded(depthOfField(request));
}

/** The focus distances that hold everything from near to far. */
export function planFocusStack(request: FocusStackRequest) {
  return rounded(focusStack(request));
}

/** The frames of a panorama. */
export function planPanorama(request: PanoramaRequest) {
  return rounded(panorama(request));
}
