import type { AddressInfo } from "node:net";
import { serve } from "@hono/node-server";
import { pino } from "pino";
import { createApp } from "./app";
import { readConfig } from "./node/config";
import { docsAssetsFromPackage } from "./node/docs-assets";
import { nodeServices } from "./node/services";

try {
  const config = readConfig(process.env);
  const log = pino({ level: config.logLevel }, pino.destination(2));
  const services = await nodeServices(config, log);
  const app = createApp(services, docsAssetsFromPackage());
  const server = serve({ fetch: app.fetch, port: config.port, hostname: config.host }, (address) => {
    announce(address);
    services.warmUp();
  });
  server.on("error", fail);
  // requests that were taken are answered first: they may still need the workers
  const stop = () => {
    server.close(() => services.close().then(() => process.exit(0)));
    // a connection that falls idle from now on is not waited for
    if ("closeIdleConnections" in server) setInterval(() => server.closeIdleConnections(), 50).unref();
  };
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, stop);
} catch (error) {
  fail(error);
}

function announce({ address, port, family }: AddressInfo): void {
  const base = `http://${family === "IPv6" ? `[${address}]` : address}:${port}`;
  console.log(`Fieldstop listens at ${base} (reference: ${base}/docs)`);
  console.log(`Try: curl '${base}/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20'`);
}

/** A start that cannot succeed ends with one sentence, not with a stack. */
function fail(error: unknown): void {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
}
