export { type ComparisonInput, type ComparisonRequest, compareOutings, comparison, comparisonInput } from "./compare";
export { type OutingInput, type OutingRequest, outing, outingInput } from "./outing";
export { planOuting } from "./plan";
