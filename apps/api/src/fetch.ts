import { createRemoteTerrain } from "@fieldstop/terrain/remote";
import tzLookup from "@photostructure/tz-lookup";
import { createApp } from "./app";
import type { Services } from "./services";

/** What the environment says, by its names: the process's own, or the bindings that a worker is given. */
type Environment = Readonly<Record<string, unknown>>;
type App = ReturnType<typeof createApp>;

let started: Promise<App> | undefined;

/**
 * The service for runtimes that hand over requests: workerd, Deno, Bun, and whatever else speaks `fetch`. There are no
 * disk and no worker threads: elevation comes from URLs alone (`FIELDSTOP_ELEVATION`), and tides and photographs are
 * answered with 503.
 */
export default {
  async fetch(request: Request, bindings?: unknown): Promise<Response> {
    started ??= start(environmentOf(bindings)).catch((error: unknown) => {
      // a start that failed may succeed at the next request
      started = undefined;
      throw error;
    });
    return (await started).fetch(request);
  },
};

async function start(environment: Environment): Promise<App> {
  const sources = String(environment["FIELDSTOP_ELEVATION"] ?? "")
    .split(",")
    .map((source) => source.trim())
    .filter((source) => source !== "");
  const services: Services = {
    ...(sources.length > 0 && { terrain: await createRemoteTerrain({ sources }) }),
    timeZoneAt: (latitude, longitude) => tzLookup(latitude, longitude),
    nowMs: () => Date.now(),
    // biome-ignore lint/suspicious/noConsole: the only log that all these runtimes have
    reportFault: (error, requestId) => console.error(requestId, error),
  };
  return createApp(services);
}

/** A worker is handed its bindings; elsewhere the second argument is something else, and the process has an environment. */
function environmentOf(bindings: unknown): Environment {
  if (bindings !== null && typeof bindings === "object" && "FIELDSTOP_ELEVATION" in bindings) {
    return bindings as Environment;
  }
  return globalThis.process?.env ?? {};
}
