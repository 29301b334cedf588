import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

let collect: (() => void) | undefined;

/**
 * Frees what nothing refers to any more. The engine does not count shared memory when it judges whether to do that by itself, so that
 * a thread could go on holding the heights of every tile that it ever read.
 */
export function collectGarbage(): void {
  if (collect === undefined) {
    setFlagsFromString("--expose-gc");
    collect = runInNewContext("gc") as () => void;
    setFlagsFromString("--no-expose-gc");
  }
  collect();
}
