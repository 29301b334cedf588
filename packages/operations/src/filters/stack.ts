import { type FilterStackRequest, stackFilters as stack } from "@fieldstop/core/filters";
import { rounded } from "../rounding";

/** What a stack of filters takes, and the shutter time through it. */
export function stackFilters(request: FilterStackRequest) {
  return rounded(stack(request));
}
