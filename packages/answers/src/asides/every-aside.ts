import { cannotCover, changesDuring, heldForVideo, takenByFilters } from "@fieldstop/core/asides";
import type { Asides } from "./asides";

/** All of it, for those who have it at hand. */
export const ASIDES: Asides = { cannotCover, changesDuring, heldForVideo, takenByFilters };
