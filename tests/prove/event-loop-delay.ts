import { readFileSync } from "node:fs";
import type { ServiceProcess } from "./service";

/** Between two looks at the clock by the service's own measure [ms]: what is longer was held up. */
const LOOKED_EACH_MS = 10;

/** How late the event loop of the service ran since this was last asked, by its own count. */
export async function eventLoopDelay({ baseUrl }: ServiceProcess): Promise<string> {
  const text = await (await fetch(`${baseUrl}/metrics`)).text();
  const told = ["p50", "p99", "max"].map((name) => {
    const seconds = Number(new RegExp(`^nodejs_eventloop_lag_${name}_seconds (\\S+)$`, "m").exec(text)?.[1]);
    return `${name} ${Math.max(0, 1000 * seconds - LOOKED_EACH_MS).toFixed(1)} ms`;
  });
  return `held up by ${told.join(", ")}`;
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
