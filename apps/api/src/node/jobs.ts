import { alignments } from "@fieldstop/answers";
import { terrainJobs } from "@fieldstop/terrain/work";
import { tideJobs } from "../tides/tide-jobs";

/** All that is done in workers: plain data in and out. */
export const jobs = {
  ...terrainJobs,
  ...tideJobs,
  findAlignments: alignments,
};

type Jobs = typeof jobs;
export type JobName = keyof Jobs;
export type JobInput<K extends JobName> = Parameters<Jobs[K]>[0];
export type JobResult<K extends JobName> = Awaited<ReturnType<Jobs[K]>>;
