import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";

/**
 * Holds who asks to one core and the event loops of those who answer to another, as if callers were on a machine of their own: a system that moves them
 * about has them take each other's place, now and then for tenths of a second. What else those processes do (their threads, collecting garbage) goes on
 * where it likes; threads that they start later do not.
 * @param asking a process that asks from its first thread
 * @param answering processes that answer in their first thread
 * @returns gives all the cores back that they had; undefined where there is only one, or where the system has no means for it
 */
export function keepApart(asking: number, answering: readonly number[]): (() => void) | undefined {
  const cores = coresHere();
  const [first] = cores;
  const last = cores.at(-1);
  if (first === undefined || last === undefined || first === last) return undefined;
  const letGo = (): void => {
    for (const process of [asking, ...answering]) hold(process, ...cores);
  };
  if (hold(asking, last) && answering.every((process) => hold(process, first))) return letGo;
  letGo();
  return undefined;
}

/** The first thread of a process, which has its number; whether it could be held. */
function hold(process: number, ...cores: number[]): boolean {
  return spawnSync("taskset", ["--cpu-list", "--pid", cores.join(","), String(process)]).status === 0;
}

/** Those that this process may run on, such as of "0-2,5"; none where the system does not tell. */
function coresHere(): number[] {
  try {
    const status = readFileSync("/proc/self/status", "utf8");
    const ranges = /^Cpus_allowed_list:\s*(\S+)$/m.exec(status)?.[1]?.split(",") ?? [];
    return ranges.flatMap((range) => {
      const [from = Number.NaN, to = from] = range.split("-").map(Number);
      return Array.from({ length: to - from + 1 }, (_, i) => from + i);
    });
  } catch {
    return [];
  }
}
