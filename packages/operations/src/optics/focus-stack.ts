import { type FocusStackRequest, planFocusStack as plan } from "@fieldstop/core/optics";
import { rounded } from "../rounding";

/** The focus distances that hold everything from near to far. */
export function planFocusStack(request: FocusStackRequest) {
  return rounded(plan(request));
}
