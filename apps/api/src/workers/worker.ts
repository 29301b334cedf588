import { type JobName, jobs } from "./jobs";
import { type Outcome, outcomeOf } from "./outcome";

/** What a worker thread does with each message. */
export interface Task {
  readonly name: JobName;
  readonly input: unknown;
}

export function runTask({ name, input }: Task): Promise<Outcome<unknown>> {
  const job = jobs[name] as (input: unknown) => unknown;
  return outcomeOf(async () => job(input));
}
