import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../..", import.meta.url));

/** The built file, as it is deployed. */
export const BUILT_COMMAND = `${root}apps/nightly/dist/main.js`;

/** The command as a process of its own. */
export class RunnerProcess {
  stdout = "";
  stderr = "";
  readonly ended: Promise<{ code: number | null; signal: string | null }>;
  readonly child: ChildProcess;

  /** @param file of the command: the built one, or one bundled for a test */
  constructor(file: string, args: readonly string[], env: Readonly<Record<string, string>>) {
    this.child = spawn(process.execPath, [file, ...args], {
      cwd: root,
      env: { PATH: process.env["PATH"], HOME: process.env["HOME"], ...env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    this.child.stdout?.on("data", (chunk) => {
      this.stdout += chunk;
    });
    this.child.stderr?.on("data", (chunk) => {
      this.stderr += chunk;
    });
    this.ended = once(this.child, "close").then(([code, signal]) => ({ code, signal }));
  }

  kill(signal: NodeJS.Signals): void {
    this.child.kill(signal);
  }
}
