export { type BracketAsked, planBracket } from "./plan";
export { reviewBracket } from "./review";
