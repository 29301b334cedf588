import type { Dependencies } from "../dependencies";
import { rounded } from "../rounding";
import { type FilterSelectionRequest, filterSelectionFor } from "./filter-selection";

/** Which filters of a kit bring about a wanted shutter time, and when. */
export function selectFilters(dependencies: Dependencies, request: FilterSelectionRequest) {
  return rounded(filterSelectionFor(dependencies, request));
}
