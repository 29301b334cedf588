import * as operations from "@fieldstop/operations/optics";
import type {
  AngleOfView,
  AngleOfViewInput,
  DepthOfField,
  DepthOfFieldInput,
  FocusStack,
  FocusStackInput,
  Panorama,
  PanoramaInput,
} from "../generated/types.gen.js";
import { answered } from "./answered.js";
import type { OfflineOptions } from "./options.js";

/** What is sharp, and where to focus, without a network. */
export function getDepthOfField(body: DepthOfFieldInput, options?: OfflineOptions): Promise<DepthOfField> {
  return answered("/v1/optics/depth-of-field", "json", options, () => operations.getDepthOfField(body));
}

/** The focus distances that hold everything from near to far, without a network. */
export function planFocusStack(body: FocusStackInput, options?: OfflineOptions): Promise<FocusStack> {
  return answered("/v1/optics/focus-stack", "json", options, () => operations.planFocusStack(body));
}

/** How much a lens takes in on a sensor, without a network. */
export function getAngleOfView(body: AngleOfViewInput, options?: OfflineOptions): Promise<AngleOfView> {
  return answered("/v1/optics/angle-of-view", "json", options, () => operations.getAngleOfView(body));
}

/** The frames of a panorama, without a network. */
export function planPanorama(body: PanoramaInput, options?: OfflineOptions): Promise<Panorama> {
  return answered("/v1/optics/panorama", "json", options, () => operations.planPanorama(body));
}
