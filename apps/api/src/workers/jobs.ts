import { findAlignmentsStepwise } from "@fieldstop/core/light";
import { inSlices } from "@fieldstop/core/stepwise";
import { terrainJobsBeside } from "@fieldstop/terrain/work";
import { tideJobs } from "../tides/tide-jobs";

/** Days searched at one go: about a millisecond. */
const DAYS_AT_A_TIME = 60;

/**
 * All that is done in workers: plain data in and out.
 * @param othersTurn waited for after about every millisecond of what takes long
 */
export const jobsBeside = (othersTurn: () => Promise<void>) => ({
  ...terrainJobsBeside(othersTurn),
  ...tideJobs,
  findAlignments: (request: Parameters<typeof findAlignmentsStepwise>[0]) =>
    inSlices(findAlignmentsStepwise(request), DAYS_AT_A_TIME, othersTurn),
});

type Jobs = ReturnType<typeof jobsBeside>;
export type JobName = keyof Jobs;
export type JobInput<K extends JobName> = Parameters<Jobs[K]>[0];
export type JobResult<K extends JobName> = Awaited<ReturnType<Jobs[K]>>;
