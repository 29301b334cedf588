import { terrainJobs } from "@fieldstop/terrain/work";
import { operationJobs } from "../operations/jobs";
import { tideJobs } from "../tides/tide-jobs";

/** All that is done in worker threads: plain data in and out. */
export const jobs = { ...terrainJobs, ...tideJobs, ...operationJobs };

type Jobs = typeof jobs;
export type JobName = keyof Jobs;
export type JobInput<K extends JobName> = Parameters<Jobs[K]>[0];
export type JobResult<K extends JobName> = Awaited<ReturnType<Jobs[K]>>;
