export { type ComparisonAsked, type ComparisonInput, compareOutings, comparison, comparisonInput } from "./compare";
export { type OutingAsked, type OutingInput, outing, outingInput } from "./outing";
export { planOuting } from "./plan";
