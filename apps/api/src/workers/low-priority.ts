import { execFile } from "node:child_process";
import { readlinkSync } from "node:fs";
import { setPriority } from "node:os";

/** As far below as priorities go. */
const NICE = 19;

/**
 * Has this thread run only where nobody else wants the core, so that the event loop is never kept waiting by long work. On Linux priorities and policies
 * belong to threads (setpriority(2), "C library/kernel differences"; sched(7)); elsewhere this would slow down the whole process.
 */
export function takeLowPriority(): void {
  if (process.platform !== "linux") return;
  try {
    setPriority(NICE);
    takeIdlePolicy();
  } catch {
    // where it is not allowed the work goes on as it is
  }
}

/**
 * A thread of the policy SCHED_IDLE makes way at once, and the event loop is put on its core as on one that is free; one that is merely nice may keep
 * the core for some milliseconds each time. Node does not set policies: `chrt` of util-linux does, where it is there.
 */
function takeIdlePolicy(): void {
  const thread = /(?<!\d)\d+$/.exec(readlinkSync("/proc/thread-self"))?.[0];
  if (thread !== undefined) execFile("chrt", ["-i", "-p", "0", thread], () => {});
}
