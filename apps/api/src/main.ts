import cluster from "node:cluster";
import { createServer, type RequestListener, type ServerOptions } from "node:http";
import type { AddressInfo } from "node:net";
import { serve } from "@hono/node-server";
import type { Logger } from "pino";
import { createApp } from "./app";
import { type Config, readConfig } from "./node/config";
import { docsAssetsFromPackage } from "./node/docs-assets";
import { stopOnSignals } from "./node/graceful-stop";
import { keptFirst } from "./node/kept-first";
import { openLog } from "./node/log";
import { nodePolicies } from "./node/policies";
import { superviseProcesses } from "./node/processes";
import { nodeServices } from "./node/services";

try {
  const config = readConfig(process.env);
  const log = openLog(config);
  if (config.processes > 1 && cluster.isPrimary) superviseProcesses(config.processes, log);
  else await serveHere(config, log);
  if (!cluster.isWorker) endWithParent();
} catch (error) {
  fail(error);
}

async function serveHere(config: Config, log: Logger): Promise<void> {
  const services = await nodeServices(config, log);
  let stop: { readonly stopping: boolean } | undefined;
  const policies = await nodePolicies(config, log, services.parts, () => stop?.stopping === true);
  const app = createApp(services, { docsAsset: docsAssetsFromPackage(), policies });
  const server = serve(
    {
      fetch: app.fetch,
      port: config.port,
      hostname: config.host,
      createServer: ((options: ServerOptions, rest: RequestListener) =>
        createServer(options, keptFirst(app.policies, rest))) as typeof createServer,
    },
    (address) => {
      announce(address);
      services.warmUp();
    },
  );
  server.on("error", fail);
  const close = async (): Promise<void> => {
    await policies.tracing?.close();
    await services.close();
  };
  stop = stopOnSignals({ server, deadlineMs: config.shutdownSeconds * 1000, close, log });
}

/** Whoever started the service over a channel of its own and is gone no longer needs it. */
function endWithParent(): void {
  process.once("disconnect", () => process.kill(process.pid, "SIGTERM"));
  process.channel?.unref();
}

/** Of several processes only the first tells. */
function announce({ address, port, family }: AddressInfo): void {
  if (cluster.isWorker && cluster.worker?.id !== 1) return;
  const base = `http://${family === "IPv6" ? `[${address}]` : address}:${port}`;
  console.log(`Fieldstop listens at ${base} (reference: ${base}/docs)`);
  console.log(`Try: curl '${base}/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20'`);
}

/** A start that cannot succeed ends with one sentence, not with a stack. */
function fail(error: unknown): void {
  console.error(error instanceof Error ? error.message : String(error));
  process.exit(1);
}
