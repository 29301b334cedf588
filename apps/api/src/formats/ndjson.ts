import { NDJSON_TYPE } from "../middleware/accept";
import type { Answer } from "../middleware/answer";

/**
 * Answer with lines of JSON, each written before. The reader sets the pace: the next line is asked for only once the one before is on its way, and when
 * the reader goes, no further one is made.
 * @param ended called when the last line is on its way, or the reader has gone
 */
export function lines(
  texts: AsyncGenerator<string>,
  headers: Readonly<Record<string, string>>,
  ended: () => void,
): Answer<never> {
  const encoder = new TextEncoder();
  const body = new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        try {
          const next = await texts.next();
          if (!next.done) return controller.enqueue(encoder.encode(`${next.value}\n`));
          controller.close();
        } catch (error) {
          controller.error(error);
        }
        ended();
      },
      async cancel() {
        ended();
        await texts.return(undefined);
      },
    },
    // nothing is made before it is asked for
    { highWaterMark: 0 },
  );
  return {
    body,
    status: 200,
    headers: {
      "content-type": NDJSON_TYPE,
      "cache-control": "no-store",
      // proxies that gather answers before they pass them on would hide the reader's pace, and hold back what is ready (nginx, http_proxy_module)
      "x-accel-buffering": "no",
      ...headers,
    },
  };
}
