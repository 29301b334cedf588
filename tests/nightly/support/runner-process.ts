import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../..", import.meta.url));

/** Where the command is: the built file, as it is deployed, or the source. */
export function nightlyCommand(fromBuild: boolean): readonly string[] {
  if (fromBuild) return [`${root}apps/nightly/dist/main.js`];
  return ["--import", "tsx", "--conditions=fieldstop-source", `${root}apps/nightly/src/main.ts`];
}

/** The command as a process of its own. */
export class RunnerProcess {
  stdout = "";
  stderr = "";
  readonly ended: Promise<{ code: number | null; signal: string | null }>;
  readonly child: ChildProcess;

  constructor(args: readonly string[], env: Readonly<Record<string, string>>, fromBuild = false) {
    this.child = spawn(process.execPath, [...nightlyCommand(fromBuild), ...args], {
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
