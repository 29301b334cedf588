import type { AlignmentsInput, alignments, Surroundings } from "@fieldstop/answers";
import type { Terrain } from "@fieldstop/terrain";
import type { PhotoReader } from "./photos/photo-reader";
import type { WeatherSource } from "./weather/weather-source";

/** What routes need from outside, handed in once, so that they can be tested without files, clocks or networks. */
export interface Services extends Surroundings {
  /** Elevation data; absent where the service runs without any. */
  readonly terrain?: Terrain;
  /** Searches over years beside the event loop; absent where they are made on it. */
  readonly longWork?: {
    /** @throws where the signal is aborted: nobody waits for it any more */
    findAlignments(input: AlignmentsInput, signal?: AbortSignal): Promise<ReturnType<typeof alignments>>;
  };
  /** Cloud, temperature and humidity for forecasts; absent where the service runs without a provider. */
  readonly weather?: WeatherSource;
  /** Decodes photographs; absent where the platform cannot. */
  readonly photos?: PhotoReader;
  /** Told of every fault, with the id of the request that met it. */
  reportFault(error: unknown, requestId: string): void;
}
