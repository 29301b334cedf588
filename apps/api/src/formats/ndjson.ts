import { NDJSON_TYPE } from "../middleware/representations";
import type { AnswerContext } from "../operations/operation-context";

/**
 * Lines of JSON, one for each value. The reader sets the pace: the next value is asked for only once the one before is on its way, and when the reader
 * goes, the values are ended (their `finally` runs).
 */
export function answerLines({ env }: Pick<AnswerContext, "env">, values: AsyncGenerator<unknown>) {
  const encoder = new TextEncoder();
  const lines = new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        const next = await values.next();
        if (next.done) controller.close();
        else controller.enqueue(encoder.encode(`${JSON.stringify(next.value)}\n`));
      },
      async cancel() {
        await values.return(undefined);
      },
    },
    // nothing is made before it is asked for
    { highWaterMark: 0 },
  );
  const fields = {
    "content-type": NDJSON_TYPE,
    "cache-control": "no-store",
    // proxies that gather answers before they pass them on would hide the reader's pace, and hold back what is ready (nginx, http_proxy_module)
    "x-accel-buffering": "no",
  };
  return env.exchange.handOver({ body: lines, status: 200, fields });
}
