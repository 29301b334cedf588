import { findAlignments } from "@fieldstop/core";
import { terrainJobs } from "@fieldstop/terrain/work";

/** All that is done in workers: plain data in and out. */
export const jobs = {
  ...terrainJobs,
  findAlignments: async (request: Parameters<typeof findAlignments>[0]) => findAlignments(request),
};

export type JobName = keyof typeof jobs;
export type JobInput<K extends JobName> = Parameters<(typeof jobs)[K]>[0];
export type JobResult<K extends JobName> = Awaited<ReturnType<(typeof jobs)[K]>>;
