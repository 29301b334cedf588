import type { Client } from "./generated/client/index.js";
import { streamForecasts as requestForecasts } from "./generated/sdk.gen.js";
import type { ForecastsInput, ForecastsLine } from "./generated/types.gen.js";
import { readLines } from "./read-lines.js";

export interface StreamForecastsOptions {
  readonly client: Client;
  readonly body: ForecastsInput;
  /** Ends the stream, and with it the work of the service. */
  readonly signal?: AbortSignal;
  /** Longest wait for the stream to begin, and then for more of it [ms], default 60 000; the time that the reader takes is not counted. */
  readonly idleMs?: number;
}

/**
 * The forecasts of up to 1,000 places, each as it is ready. Stopping early, by `break` or by the signal, ends the work of the service, too. Throws a
 * `FieldstopProblem` for a refused request; a place that is refused is a line of its own. A stream that ends without its last line, or falls silent,
 * throws.
 */
export async function* streamForecasts(
  options: StreamForecastsOptions,
): AsyncGenerator<ForecastsLine, void, undefined> {
  const { client, body, signal: stop, idleMs = 60_000 } = options;
  const idle = new AbortController();
  const signal = stop === undefined ? idle.signal : AbortSignal.any([stop, idle.signal]);
  const inTime = <T>(wait: Promise<T>): Promise<T> => {
    const timer = setTimeout(() => idle.abort(new DOMException(`no line for ${idleMs} ms`, "TimeoutError")), idleMs);
    return wait.finally(() => clearTimeout(timer));
  };
  const stream: unknown = await inTime(requestForecasts({ client, body, parseAs: "stream", signal }));
  let done = false;
  for await (const line of readLines<ForecastsLine>(stream as ReadableStream<Uint8Array>, inTime)) {
    done = "done" in line;
    yield line;
  }
  if (!done) throw new Error("the stream of forecasts was cut short");
}
