import { setPriority } from "node:os";

/** As far below as the system goes: others wait for us no longer than it takes to take the core away. */
const NICE = 19;

/**
 * Has this thread run only where nobody else wants the core, so that the event loop is never kept waiting by long work. On Linux priorities belong to
 * threads (setpriority(2), "C library/kernel differences"); elsewhere this would slow down the whole process.
 */
export function takeLowPriority(): void {
  if (process.platform !== "linux") return;
  try {
    setPriority(NICE);
  } catch {
    // where it is not allowed the work goes on as it is
  }
}
