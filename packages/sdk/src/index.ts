export { createFieldstopClient, type FieldstopOptions } from "./client.js";
export { type CallOptions, createFieldstop, type Fieldstop, type PhotosOptions } from "./fieldstop.js";
export type { Client } from "./generated/client/index.js";
export * from "./generated/index.js";
export { FieldstopProblem, isProblem } from "./problem.js";
export type { RetryOptions } from "./retry.js";
