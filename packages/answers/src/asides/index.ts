// The operations that asides are handed to are listed too: a bundler that splits then keeps all that both share in one file
export { planBracket } from "../brackets/plan";
export { solveExposure } from "../exposures/solve";
export type { Asides } from "./asides";
export { ASIDES } from "./every-aside";
