import { availableParallelism } from "node:os";
import { z } from "zod";
import { WEATHER_PROVIDER_NAMES, type WeatherProviderName } from "../weather/providers";

export interface Config {
  readonly port: number;
  readonly host: string;
  /** Folders and URLs of elevation data; empty where the demo island is to be served. */
  readonly elevation: readonly string[];
  /** Where tiles from URLs are kept; the system's cache where it is not set. */
  readonly cacheDir?: string;
  /** Most that they may take [MB]; 0 keeps none. */
  readonly cacheMb: number;
  /** Processes behind the port. */
  readonly processes: number;
  /** Where forecasts take cloud, temperature and humidity from; none where it is absent. */
  readonly weather?: WeatherConfig;
  /** Worker threads for long work, in each process. */
  readonly workers: number;
  /** What replicas share; absent where there is one alone. */
  readonly redisUrl?: string;
  readonly logLevel: "fatal" | "error" | "warn" | "info" | "debug" | "silent";
}

export interface WeatherConfig {
  readonly provider: WeatherProviderName;
  /** In place of the provider's own address. */
  readonly baseUrl?: string;
  /** How the provider reaches whoever runs the service. */
  readonly contact?: string;
}

/** A setting that makes no sense; its message is a sentence that names the variable. */
export class ConfigError extends Error {
  override readonly name = "ConfigError";
}

const UP_TO_64 = /^([1-9]|[1-5]\d|6[0-4])$/;

const Environment = z.object({
  PORT: z
    .string()
    .regex(/^\d{1,5}$/, "a port from 0 to 65535")
    .transform(Number)
    .pipe(z.number().max(65_535, "a port from 0 to 65535"))
    .default(8787),
  HOST: z.string().min(1, "a host name or address").default("127.0.0.1"),
  FIELDSTOP_ELEVATION: z
    .string()
    .transform((list) => list.split(",").map((entry) => entry.trim()))
    .pipe(z.array(z.string().min(1, "folders or URLs separated by commas, none of them empty")))
    .default([]),
  FIELDSTOP_CACHE_DIR: z.string().min(1, "a folder").optional(),
  FIELDSTOP_CACHE_MB: z
    .string()
    .regex(/^\d{1,9}$/, "a whole number of megabytes, 0 for no cache")
    .transform(Number)
    .default(2048),
  FIELDSTOP_PROCESSES: z.string().regex(UP_TO_64, "a number of processes from 1 to 64").transform(Number).default(1),
  FIELDSTOP_WORKERS: z.string().regex(UP_TO_64, "a number of worker threads from 1 to 64").transform(Number).optional(),
  FIELDSTOP_REDIS_URL: z
    .url({ protocol: /^rediss?$/, error: "a URL that begins with redis:// or rediss://" })
    .optional(),
  FIELDSTOP_WEATHER: z
    .enum(WEATHER_PROVIDER_NAMES, `one of ${WEATHER_PROVIDER_NAMES.join(", ")}, or absent`)
    .optional(),
  FIELDSTOP_WEATHER_URL: z
    .url({ protocol: /^https?$/, error: "an http or https address" })
    .transform((url) => url.replace(/\/+$/, ""))
    .optional(),
  FIELDSTOP_WEATHER_CONTACT: z
    .string()
    .regex(/^[\x21-\x7e]{5,200}$/, "an e-mail address or a web page, without spaces")
    .optional(),
  FIELDSTOP_LOG_LEVEL: z
    .enum(["fatal", "error", "warn", "info", "debug", "silent"], "one of fatal, error, warn, info, debug, silent")
    .default("info"),
});

/**
 * The configuration that the environment asks for.
 * @throws ConfigError for a value that makes no sense
 */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): Config {
  const result = Environment.safeParse(environment);
  if (!result.success) {
    const [issue] = result.error.issues;
    const name = String(issue?.path[0]);
    throw new ConfigError(`${name} is ${JSON.stringify(environment[name])}; it must be ${issue?.message}.`);
  }
  const weather = weatherOf(result.data);
  const { PORT, HOST, FIELDSTOP_ELEVATION, FIELDSTOP_CACHE_DIR, FIELDSTOP_CACHE_MB } = result.data;
  const { FIELDSTOP_PROCESSES, FIELDSTOP_WORKERS, FIELDSTOP_REDIS_URL, FIELDSTOP_LOG_LEVEL } = result.data;
  return {
    port: PORT,
    host: HOST,
    elevation: FIELDSTOP_ELEVATION,
    ...(FIELDSTOP_CACHE_DIR !== undefined && { cacheDir: FIELDSTOP_CACHE_DIR }),
    cacheMb: FIELDSTOP_CACHE_MB,
    processes: FIELDSTOP_PROCESSES,
    workers: FIELDSTOP_WORKERS ?? threadsBeside(FIELDSTOP_PROCESSES),
    ...(FIELDSTOP_REDIS_URL !== undefined && { redisUrl: FIELDSTOP_REDIS_URL }),
    ...(weather !== undefined && { weather }),
    logLevel: FIELDSTOP_LOG_LEVEL,
  };
}

/** The cores that event loops leave, shared among the processes; each has one thread at least. */
function threadsBeside(processes: number): number {
  return Math.min(64, Math.max(1, Math.floor((availableParallelism() - processes) / processes)));
}

function weatherOf(environment: z.output<typeof Environment>): WeatherConfig | undefined {
  const { FIELDSTOP_WEATHER: provider, FIELDSTOP_WEATHER_URL: baseUrl } = environment;
  const { FIELDSTOP_WEATHER_CONTACT: contact } = environment;
  if (provider === undefined) return undefined;
  // its terms want to know whom to write to, and block those who do not say
  if (provider === "met-norway" && contact === undefined) {
    const must = "an e-mail address or a web page where FIELDSTOP_WEATHER is met-norway";
    throw new ConfigError(`FIELDSTOP_WEATHER_CONTACT is absent; it must be ${must}.`);
  }
  return { provider, ...(baseUrl !== undefined && { baseUrl }), ...(contact !== undefined && { contact }) };
}
