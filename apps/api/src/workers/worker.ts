import { isMainThread, workerData } from "node:worker_threads";
import { collectGarbage } from "./collect-garbage";
import { givingWay, RequestCount } from "./give-way";
import { type JobName, type JobResult, jobsBeside } from "./jobs";
import { takeLowPriority } from "./low-priority";
import { type Outcome, outcomeOf } from "./outcome";

/** What a thread is started with. */
export interface WorkerSettings {
  /** The count of requests that came, to be shared. */
  readonly requests: Int32Array;
  /** Whether somebody waits for what it does, as for an answer of the event loop. */
  readonly inARequest: boolean;
}

const settings = workerData as WorkerSettings;
if (!isMainThread && !settings.inARequest) takeLowPriority();

const requests = new RequestCount(settings.requests);

/** What a worker thread does with each message. */
export interface Task {
  readonly name: JobName;
  readonly input: unknown;
}

/** Shared memory that jobs may leave behind before it is freed: two tiles of 1″ [B]. */
const LEFT_AT_MOST = 50_000_000;
let left = 0;

export async function runTask({ name, input }: Task): Promise<Outcome<unknown>> {
  const job = jobsBeside(givingWay(requests))[name] as (input: unknown) => Promise<unknown>;
  const outcome = await outcomeOf(() => job(input));
  if (name === "readTile" && outcome.kind === "done") left += heightBytes(outcome.value as JobResult<"readTile">);
  if (left > LEFT_AT_MOST) {
    left = 0;
    // once the answer is on its way
    setImmediate(collectGarbage);
  }
  return outcome;
}

function heightBytes(read: JobResult<"readTile">): number {
  if (read.kind === "prepared") return read.bytes;
  return read.kind === "grid" ? read.grid.samples.byteLength : 0;
}
