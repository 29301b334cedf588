import type { takenByFilters } from "@fieldstop/core/asides";
import type { BracketAsides, ExposureAsides } from "@fieldstop/core/lean";

/**
 * What only some requests for exposures and brackets call for: filters on the lens, a video camera, a subject that moves, a scene
 * that no set can hold. Whoever answers hands it in, so that a page need not load it before it is called for.
 */
export interface Asides extends ExposureAsides, BracketAsides {
  readonly takenByFilters: typeof takenByFilters;
}
