import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createTerrain, type SharedTerrain, untilAborted } from "@fieldstop/terrain";
import tzLookup from "@photostructure/tz-lookup";
import type { Logger } from "pino";
import { API_VERSION } from "../openapi-document";
import type { PhotoReader } from "../photos/photo-reader";
import type { JobRunner, Services } from "../services";
import { fetchedWeather } from "../weather/fetched-weather";
import { WEATHER_PROVIDERS } from "../weather/providers";
import type { WeatherSource } from "../weather/weather-source";
import { WorkerPool } from "../workers/worker-pool";
import { cacheFolder } from "./cache-folder";
import type { Config, WeatherConfig } from "./config";
import type { ReadinessSources } from "./readiness";
import type { SharedRedis } from "./redis";
import { RedisStore } from "./redis-store";
import { tidesInThread } from "./tide-thread";

export interface NodeServices extends Services {
  /** Starts the worker threads, for which the first long work would have to wait otherwise. */
  warmUp(): void;
  /** What the policies look at. */
  readonly parts: Pick<ReadinessSources, "pool" | "elevation"> &
    Pick<Required<ReadinessSources>, "terrainSources"> & { readonly pool: WorkerPool; readonly redis?: SharedRedis };
  /** Finishes the long work that was taken, and ends the worker threads. */
  close(): Promise<void>;
}

/** Each takes some 20 ms, and forecasts of many places ask for eight at once. */
const MAX_WAITING_TIDES = 64;

/** The services of a Node process: elevation from folders and URLs, long work in threads, zones from the coordinate table, the system's clock. */
export async function nodeServices(config: Config, log: Logger): Promise<NodeServices> {
  const pool = new WorkerPool({ threads: config.workers, log });
  // started by the first who asks for a tide: most requests never do
  const tidePool = new WorkerPool({ threads: 1, queueLimit: MAX_WAITING_TIDES, log });
  const sources = config.elevation.length > 0 ? config.elevation : [demoElevationFolder()];
  const { redisUrl } = config;
  // its clients are a sixth of the start, and of no use to a replica that is alone
  const redis = redisUrl === undefined ? undefined : (await import("./redis")).connectRedis(redisUrl, log);
  let shared: Awaited<ReturnType<typeof sharedWork>> | undefined;
  const terrain = await createTerrain({
    sources,
    ...(config.cacheMb > 0 && { cache: { folder: config.cacheDir ?? cacheFolder(), maxMb: config.cacheMb } }),
    ...(redis && {
      horizonStore: new RedisStore(redis, "fieldstop:"),
      elsewhere: async (question) => shared?.once("findHorizon", question),
    }),
    work: pool.terrainWork,
    warn: (message) => log.warn(message),
  });
  if (redisUrl !== undefined) shared = await sharedWork(redisUrl, terrain, pool, config.workers, log);
  const runJob: JobRunner = (name, input, options) => {
    if (name !== "alignmentsJson" || shared === undefined) return pool.run(name, input, options);
    const found = shared.once("alignmentsJson", input as never);
    return untilAborted(found, options.signal) as never;
  };
  return {
    terrain,
    runJob,
    parts: { pool, ...(redis && { redis }), elevation: sources, terrainSources: () => terrain.sources() },
    warmUp: () => void pool.start(),
    close: async () => {
      await shared?.close();
      await Promise.all([pool.close(), tidePool.close()]);
      redis?.disconnect();
    },
    tides: tidesInThread(tidePool),
    photos: photosOnFirstUse(),
    ...(config.weather && { weather: weatherSource(config.weather, log) }),
    timeZoneAt: (latitude, longitude) => tzLookup(latitude, longitude),
    nowMs: () => Date.now(),
    reportFault: (error, requestId) => log.error({ err: error, requestId }, "fault"),
  };
}

/** What takes long, done once for all replicas that share a Redis and have the same elevation data. */
async function sharedWork(redisUrl: string, terrain: SharedTerrain, pool: WorkerPool, atOnce: number, log: Logger) {
  const [{ SharedWork }, { sharedJobs }] = await Promise.all([
    import("../workers/shared-work"),
    import("../workers/shared-jobs"),
  ]);
  const jobs = sharedJobs(terrain, (input) => pool.run("alignmentsJson", input));
  return new SharedWork({ redisUrl, version: `${API_VERSION}-${terrain.dataVersion}`, atOnce, jobs, log });
}

function weatherSource({ provider, baseUrl, contact }: WeatherConfig, log: Logger): WeatherSource {
  return fetchedWeather({
    provider: WEATHER_PROVIDERS[provider],
    baseUrl,
    userAgent: `Fieldstop/${API_VERSION}${contact === undefined ? "" : ` ${contact}`}`,
    nowMs: () => Date.now(),
    warn: (message) => log.warn(message),
  });
}

/** The decoder of photographs, loaded by the first who sends one: most requests never do. */
function photosOnFirstUse(): PhotoReader {
  let reader: Promise<PhotoReader> | undefined;
  return {
    read: async (file, signal, spent) => {
      reader ??= import("../photos/sharp-reader").then(({ photoReader }) => photoReader());
      return (await reader).read(file, signal, spent);
    },
  };
}

/** The demo island's tiles, found from the source as well as from the built file. */
function demoElevationFolder(): string {
  const candidates = ["../../../demo/elevation", "../../../../demo/elevation"];
  const folders = candidates.map((path) => fileURLToPath(new URL(path, import.meta.url)));
  return folders.find((folder) => existsSync(folder)) ?? (folders[0] as string);
}
