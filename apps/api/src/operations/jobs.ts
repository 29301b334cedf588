import { comparison, type OutingInput, outing, rounded } from "@fieldstop/operations";
import { forecastJobs } from "./forecast/forecast-jobs";
import { lightJobs } from "./light/light-jobs";

/** What takes operations long: plain data in, the text of an answer out, so that a worker thread can do it. */
export const operationJobs = {
  ...forecastJobs,
  ...lightJobs,
  planJson: (input: OutingInput): string => JSON.stringify(rounded(outing(input))),
  comparisonJson: (input: Parameters<typeof comparison>[0]): string => JSON.stringify(comparison(input)),
};

export type OperationJobs = typeof operationJobs;
