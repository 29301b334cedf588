export type { FilterSelectionRequest } from "./filter-selection";
export { assessGraduated, type GraduatedRequest } from "./graduated";
export { assessPolarizer, type PolarizerRequest } from "./polarizer";
export { selectFilters } from "./select";
export { stackFilters } from "./stack";
