import { isMainThread } from "node:worker_threads";

// Loaded into the service before it: tells whoever started it, each time that it is asked, how long the longest turn of the event loop was since it was
// last asked [ms].
if (isMainThread) {
  let longestMs = 0;
  let beforeMs = performance.now();
  const turn = () => {
    const nowMs = performance.now();
    longestMs = Math.max(longestMs, nowMs - beforeMs);
    beforeMs = nowMs;
    setImmediate(turn);
  };
  turn();
  process.on("message", () => {
    process.send(longestMs);
    longestMs = 0;
  });
}
