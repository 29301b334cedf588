import { z } from "zod";

export interface Config {
  readonly port: number;
  readonly host: string;
  /** Folders of elevation data; empty where the demo island is to be served. */
  readonly elevation: readonly string[];
  readonly logLevel: "fatal" | "error" | "warn" | "info" | "debug" | "silent";
}

/** A setting that makes no sense; its message is a sentence that names the variable. */
export class ConfigError extends Error {
  override readonly name = "ConfigError";
}

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
    .pipe(z.array(z.string().min(1, "folders separated by commas, none of them empty")))
    .default([]),
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
  const { PORT, HOST, FIELDSTOP_ELEVATION, FIELDSTOP_LOG_LEVEL } = result.data;
  return { port: PORT, host: HOST, elevation: FIELDSTOP_ELEVATION, logLevel: FIELDSTOP_LOG_LEVEL };
}
