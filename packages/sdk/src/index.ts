export type { CallOptions } from "./call-options.js";
export { createFieldstopClient, type FieldstopOptions } from "./client.js";
export { createFieldstop, type Fieldstop, type PhotosOptions } from "./fieldstop.js";
export type { Client } from "./generated/client/index.js";
export * from "./generated/index.js";
export { FieldstopProblem, isProblem } from "./problem.js";
export type { RetryOptions } from "./retry.js";
// takes the place of the generated function of this name, which would answer with the whole stream at once
export { type StreamForecastsOptions, streamForecasts } from "./stream-forecasts.js";
