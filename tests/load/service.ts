import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, readFileSync } from "node:fs";
import { createServer } from "node:net";
import { fileURLToPath } from "node:url";
import type { Address } from "./exchange";

const root = fileURLToPath(new URL("../..", import.meta.url));
const built = `${root}apps/api/dist/main.js`;

/** The built file, as `npm start` starts it. */
function command(): string[] {
  if (!existsSync(built)) throw new Error("apps/api/dist/main.js is not there: npm run build -w @fieldstop/api");
  const { scripts } = JSON.parse(readFileSync(`${root}package.json`, "utf8")) as { scripts: { start: string } };
  return scripts.start.split(" ").slice(1);
}

/** The service as a process of its own. */
export class ServiceProcess {
  readonly address: Address;
  readonly child: ChildProcess;
  /** What it wrote to its log. */
  log = "";

  private constructor(child: ChildProcess, address: Address) {
    this.child = child;
    this.address = address;
  }

  /** @throws where it does not listen within half a minute */
  static async start(
    environment: Readonly<Record<string, string>> = {},
    { node = process.execPath, flags = [] as readonly string[], channel = false } = {},
  ): Promise<ServiceProcess> {
    const port = Number(environment["PORT"] ?? (await freePort()));
    const child = spawn(node, [...flags, ...command()], {
      cwd: root,
      env: {
        PATH: process.env["PATH"],
        HOME: process.env["HOME"],
        FIELDSTOP_CACHE_MB: "0",
        FIELDSTOP_LOG_LEVEL: "error",
        FIELDSTOP_RATE_LIMIT: "off",
        ...environment,
        PORT: String(port),
      },
      stdio: ["ignore", "ignore", "pipe", ...(channel ? (["ipc"] as const) : [])],
    });
    const service = new ServiceProcess(child, { host: "127.0.0.1", port });
    child.stderr?.on("data", (chunk: Buffer) => {
      service.log = (service.log + chunk.toString()).slice(-20_000);
    });
    for (const until = Date.now() + 30_000; !(await service.healthy()); ) {
      if (!service.alive || Date.now() > until) {
        child.kill("SIGKILL");
        throw new Error(`the service does not start: ${service.log}`);
      }
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    return service;
  }

  get baseUrl(): string {
    return `http://${this.address.host}:${this.address.port}`;
  }

  get alive(): boolean {
    return this.child.exitCode === null && this.child.signalCode === null;
  }

  async healthy(path = "/healthz"): Promise<boolean> {
    try {
      const response = await fetch(this.baseUrl + path, { signal: AbortSignal.timeout(5000) });
      await response.arrayBuffer();
      return response.ok;
    } catch {
      return false;
    }
  }

  /** The processes that it started; none where the system does not tell. */
  children(): number[] {
    try {
      const list = readFileSync(`/proc/${this.child.pid}/task/${this.child.pid}/children`, "utf8");
      return list.trim().split(" ").filter(Boolean).map(Number);
    } catch {
      return [];
    }
  }

  /** Memory that the process holds [MB]; undefined where the system does not tell. */
  residentMb(): number | undefined {
    return residentMbOf(this.child.pid);
  }

  /** The same with the processes that it started. */
  residentMbOfAll(): number | undefined {
    const own = this.residentMb();
    // one that has just ended holds nothing
    return own && this.children().reduce((sum, pid) => sum + (residentMbOf(pid) ?? 0), own);
  }

  /** Ends it: politely by default; with the exit code, null where a signal ended it. */
  async stop(signal: NodeJS.Signals = "SIGTERM"): Promise<number | null> {
    if (!this.alive) return this.child.exitCode;
    const gone = once(this.child, "exit") as Promise<[number | null]>;
    this.child.kill(signal);
    return (await gone)[0];
  }
}

function residentMbOf(pid: number | undefined): number | undefined {
  try {
    const pages = Number(readFileSync(`/proc/${pid}/statm`, "utf8").split(" ")[1]);
    return (pages * 4096) / 1e6;
  } catch {
    return undefined;
  }
}

/** A port that nothing listens at just now. */
export async function freePort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address() as { port: number };
  server.close();
  await once(server, "close");
  return port;
}
