import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { preview } from "vite";

/** Serves the built page and, behind the same address, the service with the demo island. */
const port = Number(process.env["SITE_PORT"] ?? 8788);
const service = startService();
try {
  const target = await addressOf(service);
  const server = await preview({
    configFile: fileURLToPath(new URL("vite.config.ts", import.meta.url)),
    logLevel: "warn",
    preview: { port, strictPort: true, host: "127.0.0.1", proxy: { "/v1": target, "/problems": target } },
  });
  console.log(`The Circle's page: http://127.0.0.1:${port}/ (service: ${target})`);
  const stop = async (): Promise<void> => {
    service.kill();
    await server.close();
    process.exit(0);
  };
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, stop);
} catch (error) {
  service.kill();
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
}

function startService(): ChildProcess {
  const main = fileURLToPath(new URL("../api/dist/main.js", import.meta.url));
  return spawn(process.execPath, [main], {
    env: { ...process.env, PORT: "0", HOST: "127.0.0.1" },
    stdio: ["ignore", "pipe", "inherit"],
  });
}

/** Where the service says that it listens. */
async function addressOf(child: ChildProcess): Promise<string> {
  const ended = once(child, "exit").then(() => null);
  const told = (async () => {
    if (child.stdout === null) return null;
    for await (const line of createInterface({ input: child.stdout })) {
      const found = /listens at (\S+)/.exec(line)?.[1];
      if (found !== undefined) return found;
    }
    return null;
  })();
  const address = await Promise.race([told, ended]);
  if (address === null) throw new Error("The service did not start; its own words are above.");
  child.stdout?.resume();
  return address;
}
