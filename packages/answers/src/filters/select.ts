import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type FilterSelectionAsked, filterSelectionFor } from "./filter-selection";

/** Which filters of a kit bring about a wanted shutter time, and when. */
export function selectFilters(surroundings: Surroundings, asked: FilterSelectionAsked) {
  return rounded(filterSelectionFor(surroundings, asked));
}
