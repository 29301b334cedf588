import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Whether this machine has the program. In CI it must. */
export const hasRedis =
  process.env["CI"] === "true" || spawnSync("redis-server", ["--version"], { stdio: "ignore" }).status === 0;

/** A Redis of one's own, with its log of writes on disk, so that it can be killed and come back. */
export class RedisServer {
  #child: ChildProcess | undefined;

  private constructor(
    readonly port: number,
    private readonly folder: string,
  ) {}

  static async start(port?: number): Promise<RedisServer> {
    const server = new RedisServer(port ?? (await freePort()), await mkdtemp(join(tmpdir(), "nightly-redis-")));
    await server.up();
    return server;
  }

  get url(): string {
    return `redis://127.0.0.1:${this.port}`;
  }

  async up(): Promise<void> {
    const options = { port: this.port, bind: "127.0.0.1", dir: this.folder, appendonly: "yes", appendfsync: "always" };
    const args = Object.entries({ ...options, save: "" }).flatMap(([name, value]) => [`--${name}`, String(value)]);
    this.#child = spawn("redis-server", args, { stdio: "ignore" });
    for (let tries = 0; tries < 200; tries++) {
      if (await answers(this.port)) return;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    throw new Error("redis-server does not answer");
  }

  async down(signal: NodeJS.Signals = "SIGKILL"): Promise<void> {
    const child = this.#child;
    if (child === undefined) return;
    this.#child = undefined;
    const ended = once(child, "exit");
    child.kill(signal);
    await ended;
  }

  async stop(): Promise<void> {
    await this.down();
    await rm(this.folder, { recursive: true, force: true });
  }
}

function answers(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1", () => socket.write("PING\r\n"));
    socket.once("data", (data) => {
      resolve(data.toString().startsWith("+PONG"));
      socket.destroy();
    });
    socket.once("error", () => resolve(false));
  });
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address() as { port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}
