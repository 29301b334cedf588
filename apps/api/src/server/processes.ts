import cluster, { type Worker } from "node:cluster";
import type { Logger } from "pino";
import { addUpMetrics } from "./metrics-of-all";

/** Wait before a process that ended by itself is replaced [ms]; doubled for each that did not last, up to the longest. */
const FIRST_WAIT_MS = 100;
const LONGEST_WAIT_MS = 5000;
/** One that listened for this long had a good start [ms]. */
const LASTED_MS = 10_000;

/**
 * So many processes behind one port, each the whole service. One that ends by itself is replaced; a signal to stop is passed on, and
 * the last one to finish what it took ends this process too.
 */
export function superviseProcesses(count: number, log: Logger): void {
  let stopping = false;
  let listened = false;
  let waitMs = FIRST_WAIT_MS;
  const startedAt = new Map<Worker, number>();
  const start = (): void => {
    if (!stopping) startedAt.set(cluster.fork(), performance.now());
  };

  cluster.on("listening", () => {
    listened = true;
  });
  cluster.on("exit", (worker, code, signal) => {
    if (stopping) return;
    // a start that cannot succeed is told once, by the process that tried
    if (!listened) return end(code);
    log.error({ ended: worker.process.pid, code, signal }, "a process ended by itself; another takes its place");
    waitMs =
      performance.now() - (startedAt.get(worker) ?? 0) > LASTED_MS
        ? FIRST_WAIT_MS
        : Math.min(2 * waitMs, LONGEST_WAIT_MS);
    startedAt.delete(worker);
    setTimeout(start, waitMs);
  });
  const end = (code: number): void => {
    stopping = true;
    process.exitCode = code;
    for (const worker of Object.values(cluster.workers ?? {})) worker?.process.kill("SIGTERM");
  };
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => end(0));
  addUpMetrics();
  for (let i = 0; i < count; i++) start();
}
