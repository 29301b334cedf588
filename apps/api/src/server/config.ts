import { availableParallelism } from "node:os";
import { z } from "zod";
import { WEATHER_PROVIDER_NAMES, type WeatherProviderName } from "../weather/providers";

/** A setting that makes no sense; its message is a sentence that names the variable. */
export class ConfigError extends Error {
  override readonly name = "ConfigError";
}

const whole = (least: number, most: number, what: string) =>
  z
    .string()
    .regex(/^\d{1,9}$/, what)
    .transform(Number)
    .pipe(z.number().min(least, what).max(most, what));

const list = (what: string) =>
  z
    .string()
    .transform((entries) => entries.split(",").map((entry) => entry.trim()))
    .pipe(z.array(z.string().min(1, what)));

const ORIGIN = /^https?:\/\/[^/\s*]+$/;
const LOG_LEVELS = ["fatal", "error", "warn", "info", "debug", "silent"] as const;

/** Each setting: the variable that it comes from, and what is allowed. */
const SETTINGS = {
  port: ["PORT", whole(0, 65_535, "a port from 0 to 65535").default(8787)],
  host: ["HOST", z.string().min(1, "a host name or address").default("127.0.0.1")],
  /** Folders and URLs of elevation data; empty where the demo island is to be served. */
  elevation: ["FIELDSTOP_ELEVATION", list("folders or URLs separated by commas, none of them empty").default([])],
  /** Where tiles from URLs are kept; the system's cache where it is not set. */
  cacheDir: ["FIELDSTOP_CACHE_DIR", z.string().min(1, "a folder").optional()],
  /** Most that they may take [MB]; 0 keeps none. */
  cacheMb: ["FIELDSTOP_CACHE_MB", whole(0, 999_999_999, "a whole number of megabytes, 0 for no cache").default(2048)],
  /** Most that finished answers may take in memory [MB]; 0 keeps none. */
  responseCacheMb: [
    "FIELDSTOP_RESPONSE_CACHE_MB",
    whole(0, 65_536, "a whole number of megabytes up to 65536, 0 for no cache").default(64),
  ],
  /** Processes behind the port. */
  processes: ["FIELDSTOP_PROCESSES", whole(1, 64, "a number of processes from 1 to 64").default(1)],
  /** Worker threads for long work, in each process; what the event loops leave where it is not set. */
  workers: ["FIELDSTOP_WORKERS", whole(1, 64, "a number of worker threads from 1 to 64").optional()],
  /** What replicas share; absent where there is one alone. */
  redisUrl: [
    "FIELDSTOP_REDIS_URL",
    z.url({ protocol: /^rediss?$/, error: "a URL that begins with redis:// or rediss://" }).optional(),
  ],
  /** Where forecasts take cloud, temperature and humidity from; none where it is not set. */
  weather: [
    "FIELDSTOP_WEATHER",
    z.enum(WEATHER_PROVIDER_NAMES, `one of ${WEATHER_PROVIDER_NAMES.join(", ")}, or absent`).optional(),
  ],
  weatherUrl: [
    "FIELDSTOP_WEATHER_URL",
    z
      .url({ protocol: /^https?$/, error: "an http or https address" })
      .transform((url) => url.replace(/(?<!\/)\/+$/, ""))
      .optional(),
  ],
  weatherContact: [
    "FIELDSTOP_WEATHER_CONTACT",
    z
      .string()
      .regex(/^[\x21-\x7e]{5,200}$/, "an e-mail address or a web page, without spaces")
      .optional(),
  ],
  /** Points that a client may spend in a minute. */
  rateLimit: [
    "FIELDSTOP_RATE_LIMIT",
    z
      .union([z.literal("off"), whole(1, 1_000_000, "")], "points per minute and client from 1 to 1000000, or off")
      .default(3000),
  ],
  /** File of hashed keys; where it is not set the service is open to all. */
  apiKeys: ["FIELDSTOP_API_KEYS", z.string().min(1, "a file of hashed keys").optional()],
  /** Pages of other origins that may send bodies too. */
  corsOrigins: [
    "FIELDSTOP_CORS_ORIGINS",
    z
      .union(
        [
          z.enum(["off", "*"]),
          z
            .string()
            .transform((entries) => entries.split(",").map((entry) => entry.trim()))
            .pipe(z.array(z.string().regex(ORIGIN))),
        ],
        "off, * or origins such as https://club.example separated by commas",
      )
      .default([]),
  ],
  /** Proxies in front, each of which adds an entry to X-Forwarded-For. */
  trustedProxies: ["FIELDSTOP_TRUSTED_PROXIES", whole(0, 8, "a number of proxies from 0 to 8").default(0)],
  /** Longest that a request may take until its answer begins [s]. */
  requestTimeoutSeconds: ["FIELDSTOP_REQUEST_TIMEOUT_SECONDS", whole(1, 600, "seconds from 1 to 600").default(30)],
  /** Longest that a stop waits for what was taken [s]. */
  shutdownSeconds: ["FIELDSTOP_SHUTDOWN_SECONDS", whole(1, 600, "seconds from 1 to 600").default(30)],
  /** Most connections of one address; behind proxies they are the proxy's to limit. */
  maxConnectionsPerAddress: [
    "FIELDSTOP_MAX_CONNECTIONS_PER_ADDRESS",
    whole(1, 100_000, "a number of connections from 1 to 100000").default(512),
  ],
  /** Most requests at once, before the service asks callers to come back. */
  maxConcurrentRequests: [
    "FIELDSTOP_MAX_CONCURRENT_REQUESTS",
    whole(1, 100_000, "a number of requests from 1 to 100000").default(1000),
  ],
  /** Whether spans are exported, as the standard variables of OpenTelemetry say. */
  otel: ["FIELDSTOP_OTEL", z.enum(["on", "off"], "on or off").optional()],
  otelEndpoint: ["OTEL_EXPORTER_OTLP_ENDPOINT", z.string().optional()],
  logLevel: ["FIELDSTOP_LOG_LEVEL", z.enum(LOG_LEVELS, `one of ${LOG_LEVELS.join(", ")}`).default("info")],
} as const satisfies Record<string, readonly [string, z.ZodType]>;

/** The variables that are read. */
export const VARIABLES: readonly string[] = Object.values(SETTINGS).map(([variable]) => variable);

type Settings = { readonly [K in keyof typeof SETTINGS]: z.output<(typeof SETTINGS)[K][1]> };

export interface WeatherConfig {
  readonly provider: WeatherProviderName;
  /** In place of the provider's own address. */
  readonly baseUrl?: string;
  /** How the provider reaches whoever runs the service. */
  readonly contact?: string;
}

export interface Config extends Omit<Settings, "weather" | "weatherUrl" | "weatherContact"> {
  readonly weather?: WeatherConfig;
  readonly workers: number;
}

/**
 * The configuration that the environment asks for.
 * @throws ConfigError for a value that makes no sense
 */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): Config {
  const read = Object.entries(SETTINGS).map(([setting, [variable, allowed]]) => {
    const given = environment[variable];
    const result = z.safeParse(allowed as z.ZodType, given);
    if (result.success) return [setting, result.data];
    throw new ConfigError(`${variable} is ${JSON.stringify(given)}; it must be ${result.error.issues[0]?.message}.`);
  });
  const { weather: provider, weatherUrl, weatherContact, ...settings } = Object.fromEntries(read) as Settings;
  const weather = weatherOf(provider, weatherUrl, weatherContact);
  return {
    ...settings,
    ...(weather && { weather }),
    workers: settings.workers ?? threadsBeside(settings.processes),
  };
}

function weatherOf(
  provider: WeatherProviderName | undefined,
  baseUrl: string | undefined,
  contact: string | undefined,
): WeatherConfig | undefined {
  if (provider === undefined) return undefined;
  // its terms want to know whom to write to, and block those who do not say
  if (provider === "met-norway" && contact === undefined) {
    const must = "an e-mail address or a web page where FIELDSTOP_WEATHER is met-norway";
    throw new ConfigError(`FIELDSTOP_WEATHER_CONTACT is absent; it must be ${must}.`);
  }
  return { provider, ...(baseUrl !== undefined && { baseUrl }), ...(contact !== undefined && { contact }) };
}

/** The cores that event loops leave, shared among the processes; each has one thread at least. */
function threadsBeside(processes: number): number {
  return Math.min(64, Math.max(1, Math.floor((availableParallelism() - processes) / processes)));
}
