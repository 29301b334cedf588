import type { Answer } from "./answer";
import { COME_BACK, problemAnswer } from "./error-answer";
import type { Metrics, OverloadReason } from "./metrics";
import type { RequestContext } from "./request-context";

export interface LoadSettings {
  /** Requests that are computed at once; no bound without. */
  readonly maxConcurrentRequests?: number;
  /** Whether the event loop is far behind; never without. */
  readonly eventLoopLags?: () => boolean;
  readonly metrics?: Metrics;
  /** Called for each request that is turned away. */
  readonly onShed?: (why: OverloadReason) => void;
}

/** Count what is being computed, streams until their end included, and turn callers away where that is too much. */
export class Load {
  readonly #settings: LoadSettings;
  #inFlight = 0;

  constructor(settings: LoadSettings) {
    this.#settings = settings;
    settings.metrics?.setInFlight(() => this.#inFlight);
  }

  get inFlight(): number {
    return this.#inFlight;
  }

  /** The refusal of a request that comes at a bad moment; undefined at any other. */
  refuse(context: RequestContext): Answer | undefined {
    const { maxConcurrentRequests = Number.POSITIVE_INFINITY, eventLoopLags, metrics, onShed } = this.#settings;
    const isFull = this.#inFlight >= maxConcurrentRequests;
    if (!isFull && eventLoopLags?.() !== true) return undefined;
    const why = isFull ? "in-flight" : "event-loop";
    metrics?.shed(why);
    onShed?.(why);
    const detail = "The service is overloaded; try again shortly.";
    return problemAnswer(context, "unavailable", { detail, headers: COME_BACK });
  }

  /** Count a request until its answer is made, or until its stream has ended. */
  async count(work: () => Promise<Answer>): Promise<Answer> {
    this.#inFlight++;
    let streams = false;
    try {
      const answer = await work();
      if (!(answer.body instanceof ReadableStream)) return answer;
      streams = true;
      return { ...answer, body: whenEnded(answer.body, () => this.#inFlight--) };
    } finally {
      if (!streams) this.#inFlight--;
    }
  }
}

/** The same stream, telling once that it has ended, failed or was given up. */
function whenEnded(stream: ReadableStream<Uint8Array>, ended: () => void): ReadableStream<Uint8Array> {
  const reader = stream.getReader();
  return new ReadableStream(
    {
      async pull(controller) {
        try {
          const { done, value } = await reader.read();
          if (!done) return controller.enqueue(value);
          controller.close();
        } catch (error) {
          controller.error(error);
        }
        ended();
      },
      async cancel(reason) {
        ended();
        await reader.cancel(reason);
      },
    },
    { highWaterMark: 0 },
  );
}
