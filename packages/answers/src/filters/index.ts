export type { FilterSelectionAsked } from "./filter-selection";
export { assessGraduated, type GraduatedAsked } from "./graduated";
export { assessPolarizer, type PolarizerAsked } from "./polarizer";
export { selectFilters } from "./select";
export { stackFilters } from "./stack";
