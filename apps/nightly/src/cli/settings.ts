import { homedir } from "node:os";
import { join } from "node:path";
import { Misuse } from "./misuse";

/** What all commands may be told. */
export interface GlobalOptions {
  readonly places?: string;
  readonly ledger?: string;
  readonly serve?: string;
}

export type Environment = Readonly<Record<string, string | undefined>>;

export function ledgerFolder({ ledger }: GlobalOptions, env: Environment): string {
  const state = env["XDG_STATE_HOME"] || join(homedir(), ".local", "state");
  return ledger ?? join(state, "fieldstop-nightly");
}

export function placesFile({ places }: GlobalOptions): string {
  if (places === undefined) throw new Misuse("Say which places: --places FILE.");
  return places;
}

/** Where Redis is, if many machines share the work. */
export function redisUrl(env: Environment): string | undefined {
  return env["FIELDSTOP_REDIS_URL"] ? checkedUrl(env, "FIELDSTOP_REDIS_URL", /^rediss?:$/) : undefined;
}

export function serviceUrl(env: Environment): string | undefined {
  return env["FIELDSTOP_API_URL"] ? checkedUrl(env, "FIELDSTOP_API_URL", /^https?:$/) : undefined;
}

const OWN_VARIABLES: readonly string[] = [
  "FIELDSTOP_API_URL",
  "FIELDSTOP_API_KEY",
  "FIELDSTOP_REDIS_URL",
  "FIELDSTOP_LOG_LEVEL",
];

/**
 * A sentence for each variable that is set in our name and that nothing reads: one that is mistyped would otherwise go by in silence.
 * @param named those that the places file names
 */
export function unknownVariables(env: Environment, named: readonly string[]): string[] {
  const read = [...OWN_VARIABLES, ...named];
  // what Kubernetes sets in every container beside a service of this name is left out
  const ours = /^fieldstop_(?!service_(host|port)|port($|_\d))/i;
  const unknown = Object.keys(env).filter((name) => ours.test(name) && !read.includes(name));
  return unknown.sort().map((name) => `${name} is set, but nothing reads it; there are ${OWN_VARIABLES.join(", ")}.`);
}

const LOG_LEVELS = ["fatal", "error", "warn", "info", "debug", "trace", "silent"];

export function logLevel(env: Environment): string {
  const level = env["FIELDSTOP_LOG_LEVEL"] || "info";
  if (!LOG_LEVELS.includes(level)) {
    throw new Misuse(`FIELDSTOP_LOG_LEVEL is "${level}"; allowed: ${LOG_LEVELS.join(", ")}.`);
  }
  return level;
}

function checkedUrl(env: Environment, name: string, protocol: RegExp): string {
  const value = env[name] as string;
  // the value may hold a password: it is not repeated
  if (!protocol.test(URL.parse(value)?.protocol ?? "")) throw new Misuse(`${name} holds no URL of that kind.`);
  return value;
}
