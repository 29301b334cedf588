import { type PanoramaRequest, planPanorama as plan } from "@fieldstop/core/optics";
import { rounded } from "../rounding";

/** The frames of a panorama. */
export function planPanorama(request: PanoramaRequest) {
  return rounded(plan(request));
}
