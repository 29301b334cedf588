export { type BracketRequest, planBracket } from "./plan";
export { reviewBracket } from "./review";
