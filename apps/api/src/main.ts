import cluster from "node:cluster";
import type { AddressInfo } from "node:net";
import { createApp } from "./app";
import { type Config, readConfig } from "./server/config";
import { contractText } from "./server/contract-text";
import { stopOnSignals } from "./server/graceful-stop";
import { httpServer } from "./server/http-server";
import { openLog, type ServiceLog } from "./server/log";
import { nodePolicies } from "./server/policies";
import { superviseProcesses } from "./server/processes";
import { nodeServices } from "./server/services";
import { unknownVariables } from "./server/unknown-variables";

/** Connections that wait to be accepted: of a crowd that comes at once, those beyond would try again after a second. */
const BACKLOG = 4096;

try {
  const config = readConfig(process.env);
  const log = openLog(config);
  if (cluster.isPrimary) for (const sentence of unknownVariables(process.env)) log.log.warn(sentence);
  if (config.processes > 1 && cluster.isPrimary) superviseProcesses(config.processes, log.log);
  else await serveHere(config, log);
  if (!cluster.isWorker) endWithParent();
} catch (error) {
  fail(error);
}

async function serveHere(config: Config, serviceLog: ServiceLog): Promise<void> {
  const { log } = serviceLog;
  const services = await nodeServices(config, log);
  let stop: { readonly stopping: boolean } | undefined;
  const policies = await nodePolicies(config, serviceLog, services.parts, () => stop?.stopping === true);
  const app = createApp(services, { policies, contract: contractText });
  const { port, host, trustedProxies } = config;
  const maxConnectionsPerAddress = trustedProxies > 0 ? Number.POSITIVE_INFINITY : config.maxConnectionsPerAddress;
  const server = httpServer(app, { host, maxConnectionsPerAddress });
  server.on("error", fail);
  server.listen({ port, host, backlog: BACKLOG }, () => {
    announce(server.address() as AddressInfo);
    services.warmUp();
  });
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

/** Of several processes only the first says so. */
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
