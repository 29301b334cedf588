export { type ComparisonAsked, compareOutings } from "./compare";
export { type OutingAsked, outingAt } from "./outing-at";
export { planOuting } from "./plan";
