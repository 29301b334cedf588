import type { ServerResponse } from "node:http";
import type { ServerType } from "@hono/node-server";
import type { Logger } from "pino";

export interface StopSettings {
  readonly server: ServerType;
  readonly deadlineMs: number;
  /** Ends what the service rests on, once nothing needs it. */
  readonly close: () => Promise<void>;
  readonly log: Logger;
}

/**
 * Stops as operators expect: the first signal closes the door, finishes what was taken, streams too, and ends with 0; what is not finished by the
 * deadline is cut off, and the process ends with 1. A second signal ends it at once.
 */
export function stopOnSignals({ server, deadlineMs, close, log }: StopSettings): { readonly stopping: boolean } {
  const state = { stopping: false };
  const stop = (): void => {
    if (state.stopping) process.exit(1);
    state.stopping = true;
    log.info("stopping: finishing what was taken");
    setTimeout(() => {
      log.error("stopped before everything was finished");
      log.flush();
      process.exit(1);
    }, deadlineMs).unref();
    // who asks on a connection that was open already is told to ask elsewhere next time
    server.prependListener("request", (_, response: ServerResponse) => {
      response.shouldKeepAlive = false;
    });
    // requests that were taken are answered first: they may still need the workers
    server.close(() =>
      close().then(() => {
        log.flush();
        process.exit(0);
      }),
    );
    // a connection that falls idle from now on is not waited for
    if ("closeIdleConnections" in server) setInterval(() => server.closeIdleConnections(), 50).unref();
  };
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, stop);
  return state;
}
