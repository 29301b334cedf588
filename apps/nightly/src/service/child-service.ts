import { spawn } from "node:child_process";
import { once } from "node:events";
import { createInterface } from "node:readline";
import type { Readable } from "node:stream";

const LONGEST_STOP_MS = 10_000;

export interface ChildService {
  readonly baseUrl: string;
  stop(): Promise<void>;
}

/**
 * Starts a Fieldstop service of one's own on a free port of this machine, for a try without any set-up. It ends with the channel between the two, and
 * so with this process, however that ends.
 */
export async function startChildService(file: string, signal: AbortSignal): Promise<ChildService> {
  const child = spawn(process.execPath, [file], {
    env: { ...process.env, PORT: "0", HOST: "127.0.0.1" },
    stdio: ["ignore", "pipe", "inherit", "ipc"],
  });
  const ended = once(child, "exit");
  const stop = async (): Promise<void> => {
    child.kill("SIGTERM");
    const late = setTimeout(() => child.kill("SIGKILL"), LONGEST_STOP_MS);
    await ended;
    clearTimeout(late);
  };
  const early = (): void => void stop();
  signal.addEventListener("abort", early, { once: true });
  const stdout = child.stdout as Readable;
  for await (const line of createInterface({ input: stdout })) {
    const baseUrl = /listens at (http:\/\/\S+)/.exec(line)?.[1];
    if (baseUrl === undefined) continue;
    stdout.resume();
    signal.removeEventListener("abort", early);
    return { baseUrl, stop };
  }
  signal.throwIfAborted();
  throw new Error(`the service ${file} ended without having listened`);
}
