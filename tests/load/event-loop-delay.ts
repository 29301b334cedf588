import { readFileSync } from "node:fs";
import type { ServiceProcess } from "./service";

/** Between two looks at the clock by the service's own measure [ms]: what is longer was held up. */
const LOOKED_EACH_MS = 10;

export interface LoopDelay {
  readonly p50Ms: number;
  readonly p99Ms: number;
  readonly maxMs: number;
}

/** How late the event loop of the service ran since this was last asked, by its own count. */
export async function eventLoopDelay({ baseUrl }: ServiceProcess): Promise<LoopDelay> {
  const text = await (await fetch(`${baseUrl}/metrics`)).text();
  const lateMs = (name: string): number => {
    const seconds = Number(new RegExp(`^nodejs_eventloop_lag_${name}_seconds (\\S+)$`, "m").exec(text)?.[1]);
    return Math.max(0, 1000 * seconds - LOOKED_EACH_MS);
  };
  return { p50Ms: lateMs("p50"), p99Ms: lateMs("p99"), maxMs: lateMs("max") };
}

export interface CoreTime {
  readonly hadMs: number;
  readonly waitedMs: number;
}

/** How long the event loop of the service had a core, and how long it was kept from one by others, until now [ms]; undefined where the system does not tell. */
export function coreTime({ child: { pid } }: ServiceProcess): CoreTime | undefined {
  try {
    // nanoseconds, by sched-stats of the Linux kernel
    const [had, waited] = readFileSync(`/proc/${pid}/task/${pid}/schedstat`, "utf8").split(" ").map(Number);
    return { hadMs: Number(had) / 1e6, waitedMs: Number(waited) / 1e6 };
  } catch {
    return undefined;
  }
}

/** The same since an earlier look. */
export function coreTimeSince(before: CoreTime | undefined, service: ServiceProcess): CoreTime | undefined {
  const after = before && coreTime(service);
  return before && after && { hadMs: after.hadMs - before.hadMs, waitedMs: after.waitedMs - before.waitedMs };
}
