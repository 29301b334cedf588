import type { Client } from "./generated/client/index.js";
import { streamForecasts as requestForecasts } from "./generated/sdk.gen.js";
import type { ForecastsInput, ForecastsLine } from "./generated/types.gen.js";
import { readLines } from "./read-lines.js";

export interface StreamForecastsOptions {
  readonly client: Client;
  readonly body: ForecastsInput;
  /** Ends the stream, and with it the work of the service. */
  readonly signal?: AbortSignal;
}

/**
 * The forecasts of up to 1,000 places, each as it is ready. Stopping early, by `break` or by the signal, ends the work of the service, too. Throws a
 * `FieldstopProblem` for a refused request; a place that is refused is a line of its own. A stream that ends without its last line throws.
 */
export async function* streamForecasts(
  options: StreamForecastsOptions,
): AsyncGenerator<ForecastsLine, void, undefined> {
  const { client, body, signal } = options;
  const stream: unknown = await requestForecasts({ client, body, parseAs: "stream", ...(signal && { signal }) });
  let done = false;
  for await (const line of readLines<ForecastsLine>(stream as ReadableStream<Uint8Array>)) {
    done = "done" in line;
    yield line;
  }
  if (!done) throw new Error("the stream of forecasts was cut short");
}
