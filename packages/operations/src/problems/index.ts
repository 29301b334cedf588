export { refusalFromDomain } from "./from-domain";
export { type InputPart, pointerTo } from "./pointer";
export { echo, valueAt } from "./received";
export { type FieldError, REFUSALS, Refusal, type RefusalKey } from "./refusal";
