import type { Logger } from "pino";
import type { Metrics, ShedReason } from "../middleware/metrics";

const TOLD_EACH_MS = 1000;

/** Counts what is shed, and tells of it once a second: a line for each would be more work than the answer. */
export function shedCount(log: Logger, metrics: Metrics | undefined): (why: ShedReason) => void {
  let shed = 0;
  return (why) => {
    metrics?.shed(why);
    if (shed++ > 0) return;
    setTimeout(() => {
      log.warn({ shed, why }, "more is asked than can be answered in time");
      shed = 0;
    }, TOLD_EACH_MS).unref();
  };
}
