import { type ReviewRequest, reviewBracket as review } from "@fieldstop/core/bracketing";
import { rounded } from "../rounding";

/** Which frames of a bracket the blend needs, and which were missed. */
export function reviewBracket(request: ReviewRequest) {
  return rounded(review(request));
}
