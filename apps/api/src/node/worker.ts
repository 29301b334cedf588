import { collectGarbage } from "./collect-garbage";
import { type JobName, jobs } from "./jobs";
import { type Outcome, outcomeOf } from "./outcome";

/** What a worker thread does with each message. */
export interface Task {
  readonly name: JobName;
  readonly input: unknown;
}

/** Jobs that leave tens of megabytes of shared memory behind. */
const LEAVES_MUCH: ReadonlySet<JobName> = new Set(["readTile", "prepareTile", "fillFrom"]);

export async function runTask({ name, input }: Task): Promise<Outcome<unknown>> {
  const job = jobs[name] as (input: unknown) => Promise<unknown>;
  const outcome = await outcomeOf(() => job(input));
  // once the answer is on its way
  if (LEAVES_MUCH.has(name)) setImmediate(collectGarbage);
  return outcome;
}
