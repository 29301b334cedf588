import { access, constants } from "node:fs/promises";
import { type Check, type Readiness, readinessOf } from "../middleware/readiness";
import type { WorkerPool } from "../workers/worker-pool";
import type { SharedRedis } from "./redis";

export interface ReadinessSources {
  /** Folders and URLs. */
  readonly elevation: readonly string[];
  /** Which of them the terrain could use when it last tried, in the same order. */
  readonly terrainSources?: () => readonly { readonly name: string; readonly state: "ok" | "away" }[];
  readonly pool: WorkerPool;
  readonly redis?: SharedRedis;
  readonly stopping: () => boolean;
}

const REMOTE_PATIENCE_MS = 2000;
/** A remote is asked so often at most, however often we are asked. */
const REMOTE_KEPT_MS = 15_000;

/** Looks at what the service rests on each time it is asked. */
export function readinessCheck(sources: ReadinessSources): () => Promise<Readiness> {
  const { elevation, terrainSources, pool, redis, stopping } = sources;
  const remotes = new Map<string, { atMs: number; usable: Promise<boolean> }>();
  const usable = (source: string): Promise<boolean> => {
    if (!/^https?:/.test(source)) return isReadable(source);
    const known = remotes.get(source);
    if (known !== undefined && performance.now() - known.atMs < REMOTE_KEPT_MS) return known.usable;
    const usable = answers(source);
    remotes.set(source, { atMs: performance.now(), usable });
    return usable;
  };
  return async () => {
    const used = terrainSources?.();
    const answering = elevation.map(async (source, i) => used?.[i]?.state !== "away" && (await usable(source)));
    return readinessOf({
      ...(stopping() && { process: { state: "down", detail: "stopping" } as const }),
      elevation: elevationCheck(await Promise.all(answering)),
      workers: workersCheck(pool),
      ...(redis && { redis: await redisCheck(redis) }),
    });
  };
}

/** By number, since what sources are called is the operator's business. */
function elevationCheck(usable: readonly boolean[]): Check {
  const lost = usable.flatMap((is, i) => (is ? [] : [i + 1]));
  if (lost.length === 0) return { state: "ok" };
  const detail = `cannot be used: source ${lost.join(", ")} of ${usable.length}`;
  return { state: lost.length === usable.length ? "down" : "degraded", detail };
}

function workersCheck(pool: WorkerPool): Check {
  if (pool.takesWork) return { state: "ok", detail: `${pool.waiting} waiting` };
  return { state: "down", detail: `no room: ${pool.waiting} waiting` };
}

/** Without it limits and skylines are this process's own. */
async function redisCheck(redis: SharedRedis): Promise<Check> {
  // where no request tries whether it is back, this does
  await redis.ping().catch(() => undefined);
  return redis.isAway ? { state: "degraded", detail: "away; going on without" } : { state: "ok" };
}

async function isReadable(folder: string): Promise<boolean> {
  return access(folder, constants.R_OK | constants.X_OK).then(
    () => true,
    () => false,
  );
}

/** Whether a remote answers at all: what it says to the bare address is no matter, unless that it is at fault. */
async function answers(url: string): Promise<boolean> {
  try {
    const address = url.replaceAll(/\{[xyz]\}/g, "0").replace(/#.*/, "");
    const { status } = await fetch(address, { method: "HEAD", signal: AbortSignal.timeout(REMOTE_PATIENCE_MS) });
    return status < 500;
  } catch {
    return false;
  }
}
