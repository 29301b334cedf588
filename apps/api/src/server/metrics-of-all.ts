import cluster from "node:cluster";
import { setTimeout as delay } from "node:timers/promises";
import { AggregatorRegistry, type Registry } from "prom-client";

const ASKED = "fieldstop: metrics asked";
const TOLD = "fieldstop: metrics told";
/** Longest that the first process is waited for [ms]. */
const PATIENCE_MS = 6000;

interface Message {
  readonly type: typeof ASKED | typeof TOLD;
  readonly id: number;
  /** Absent where one of the processes did not tell in time. */
  readonly text?: string;
}

/** In the first process: adds up what the others count, for whichever of them is asked. */
export function addUpMetrics(): void {
  const all = new AggregatorRegistry();
  cluster.on("message", async (worker, message: Message | undefined) => {
    if (message?.type !== ASKED) return;
    const text = await all.clusterMetrics().catch(() => undefined);
    const told: Message = { type: TOLD, id: message.id, ...(text !== undefined && { text }) };
    if (worker.isConnected()) worker.send(told);
  });
}

/** In one of several processes: the counts of all of them; undefined where they cannot be told. */
export function metricsOfAll(own: Registry): () => Promise<string | undefined> {
  AggregatorRegistry.setRegistries(own);
  // tells the first process when it asks
  new AggregatorRegistry();
  const waiting = new Map<number, (text: string | undefined) => void>();
  process.on("message", (message: Message | undefined) => {
    if (message?.type === TOLD) waiting.get(message.id)?.(message.text);
  });
  let lastId = 0;
  return async () => {
    const id = ++lastId;
    const told = new Promise<string | undefined>((resolve) => waiting.set(id, resolve));
    process.send?.({ type: ASKED, id } satisfies Message);
    try {
      return await Promise.race([told, delay(PATIENCE_MS, undefined, { ref: false })]);
    } finally {
      waiting.delete(id);
    }
  };
}
