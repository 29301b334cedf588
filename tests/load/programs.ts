import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Address } from "./exchange";
import { freePort } from "./service";

// Other people's programs that a proof needs: each in a folder of its own, on a free port.

/** Why a program cannot be had, undefined where it can. In CI it must be there: the tests that need it run and fail. */
export function lacks(...programs: readonly string[]): string | undefined {
  const missing = programs.filter((program) => spawnSync(program, ["-v"]).error !== undefined);
  return missing.length === 0 || process.env["CI"] === "true" ? undefined : `${missing.join(" and ")} not installed`;
}

export class Program {
  readonly address: Address;
  readonly #folder: string;
  readonly #command: readonly [string, ...string[]];
  #child: ChildProcess;

  private constructor(folder: string, address: Address, command: readonly [string, ...string[]]) {
    this.#folder = folder;
    this.address = address;
    this.#command = command;
    this.#child = this.#spawn();
  }

  #spawn(): ChildProcess {
    const [file, ...args] = this.#command;
    return spawn(file, args, { cwd: this.#folder, stdio: "ignore" });
  }

  static async #start(make: (folder: string, port: number) => readonly [string, ...string[]]): Promise<Program> {
    const folder = mkdtempSync(join(tmpdir(), "fieldstop-load-"));
    const port = await freePort();
    const program = new Program(folder, { host: "127.0.0.1", port }, make(folder, port));
    await program.#listening();
    return program;
  }

  /** A Redis without persistence, or with every write on disk before it is answered. */
  static redis({ durable = false } = {}): Promise<Program> {
    const kept = durable ? ["--appendonly", "yes", "--appendfsync", "always"] : ["--appendonly", "no"];
    return Program.#start((folder, port) => [
      "redis-server",
      ...["--port", String(port), "--bind", "127.0.0.1", "--save", "", ...kept, "--dir", folder],
    ]);
  }

  /** The balancer of deploy/nginx.conf, before these replicas. */
  static nginx(upstreams: readonly Address[]): Promise<Program> {
    return Program.#start((folder, port) => {
      const servers = upstreams.map(({ host, port: at }) => `server ${host}:${at} max_fails=1 fail_timeout=1s;`);
      const config = readFileSync(new URL("../../deploy/nginx.conf", import.meta.url), "utf8")
        .replace(/server fieldstop:8787[^;]*;/, servers.join(" "))
        .replace("listen 8080;", `listen 127.0.0.1:${port};`)
        .replaceAll("/tmp/", `${folder}/`);
      writeFileSync(join(folder, "nginx.conf"), config);
      // these addresses are no names
      writeFileSync(join(folder, "resolver.conf"), "");
      return [
        "nginx",
        "-p",
        folder,
        "-e",
        join(folder, "error.log"),
        "-c",
        join(folder, "nginx.conf"),
        "-g",
        "daemon off;",
      ];
    });
  }

  async #listening(): Promise<void> {
    for (const until = Date.now() + 10_000; Date.now() < until; ) {
      const socket = connect(this.address);
      const open = await Promise.race([
        once(socket, "connect").then(() => true),
        once(socket, "error").then(() => false),
      ]).catch(() => false);
      socket.destroy();
      if (open) return;
      await new Promise((resolve) => setTimeout(resolve, 25));
    }
    throw new Error(`${this.#command[0]} does not listen`);
  }

  async kill(signal: NodeJS.Signals = "SIGKILL"): Promise<void> {
    if (this.#child.exitCode !== null || this.#child.signalCode !== null) return;
    const gone = once(this.#child, "exit");
    this.#child.kill(signal);
    await gone;
  }

  /** The same program again, on the same port. */
  async restart(): Promise<void> {
    this.#child = this.#spawn();
    await this.#listening();
  }

  /** Ends it, and removes what it wrote. */
  async remove(): Promise<void> {
    // nginx leaves its workers behind when it is killed
    await this.kill("SIGTERM");
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
