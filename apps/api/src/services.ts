import type { Dependencies } from "@fieldstop/operations";
import type { Terrain } from "@fieldstop/terrain";
import { type OperationJobs, operationJobs } from "./operations/jobs";
import type { PhotoReader } from "./photos/photo-reader";
import type { WeatherSource } from "./weather/weather-source";

export interface JobOptions {
  /** Whether the job continues a request that was taken: then it is not refused however much waits. */
  readonly continues?: boolean;
}

type JobInput<K extends keyof OperationJobs> = Parameters<OperationJobs[K]>[0];
type JobResult<K extends keyof OperationJobs> = ReturnType<OperationJobs[K]>;

/** Does a job beside the event loop. */
export type JobRunner = <K extends keyof OperationJobs>(
  name: K,
  input: JobInput<K>,
  options: JobOptions & Pick<Services, "client"> & { readonly signal?: AbortSignal | undefined },
) => Promise<JobResult<K>>;

/** What operations need from outside, handed in once, so that they can be tested without files, clocks or networks. */
export interface Services extends Dependencies {
  /** Elevation data; absent where the service runs without any. */
  readonly terrain?: Terrain;
  /** Cloud, temperature and humidity for forecasts; absent where the service runs without a provider. */
  readonly weather?: WeatherSource;
  /** Decodes photographs; absent where the platform cannot. */
  readonly photos?: PhotoReader;
  /** Whose request it is, so that clients take turns; absent where nobody is told apart. */
  readonly client?: string | undefined;
  /** Worker threads; absent where jobs are done by the event loop itself. */
  readonly runJob?: JobRunner;
  /** Told of every fault, with the id of the request that met it. */
  reportFault(error: unknown, requestId: string): void;
}

/**
 * Do a job in a worker thread, or, where there is none, here, after whatever else waits.
 * @throws what the job throws; the reason of the services' signal where nobody waits for the result any more
 */
export async function runJob<K extends keyof OperationJobs>(
  { runJob: run, client, signal }: Services,
  name: K,
  input: JobInput<K>,
  options: JobOptions = {},
): Promise<JobResult<K>> {
  if (run !== undefined) return run(name, input, { ...options, client, signal });
  await new Promise((resolve) => setTimeout(resolve));
  signal?.throwIfAborted();
  return (operationJobs[name] as (input: JobInput<K>) => JobResult<K>)(input);
}
