import { monitorEventLoopDelay } from "node:perf_hooks";

const RESOLUTION_MS = 10;
const LOOKED_AT_EACH_MS = 250;
/** A mean wait above this means that more is asked than can be answered. */
const MAX_MEAN_LAG_MS = 100;

/** Watch the event loop. @returns whether it was far behind, on the mean, at the last two looks: a single long task is no overload */
export function eventLoopLags(): () => boolean {
  const delay = monitorEventLoopDelay({ resolution: RESOLUTION_MS });
  delay.enable();
  let looks = 0;
  setInterval(() => {
    // without a sample nothing ran at all
    const lags = delay.count === 0 || delay.mean / 1e6 - RESOLUTION_MS > MAX_MEAN_LAG_MS;
    looks = lags ? looks + 1 : 0;
    delay.reset();
  }, LOOKED_AT_EACH_MS).unref();
  return () => looks >= 2;
}
