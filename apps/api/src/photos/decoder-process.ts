import { type ChildProcess, fork } from "node:child_process";
import type { Writable } from "node:stream";
import { fileURLToPath } from "node:url";
import type { DecoderMessage } from "./decoder";
import type { Photo } from "./photo-reader";
import { damagedPhoto, UnreadablePhoto } from "./unreadable-photo";

/** Of the number before each file. */
const LENGTH_BYTES = 4;

/** A process that decodes one photograph after another; killed, it takes everything that it was at with it, which a thread does not. */
export class DecoderProcess {
  readonly #child: ChildProcess;
  #isReady = false;

  constructor() {
    const fromSource = import.meta.url.endsWith(".ts");
    const path = fileURLToPath(new URL(fromSource ? "./decoder-from-source.mjs" : "./decoder.js", import.meta.url));
    this.#child = fork(path, {
      // nothing of the service's settings and keys
      env: {},
      execArgv: ["--expose-gc"],
      stdio: ["pipe", "ignore", "inherit", "ipc"],
    });
    // the process's end is what tells
    this.#child.stdin?.on("error", () => {});
    this.#child.on("error", () => {});
    this.#child.once("message", () => {
      this.#isReady = true;
    });
  }

  get pid(): number | undefined {
    return this.#child.pid;
  }

  get hasEnded(): boolean {
    return this.#child.exitCode !== null || this.#child.signalCode !== null;
  }

  /** @throws UnreadablePhoto; the signal's reason, once the process has ended */
  async decode(file: Pick<Blob, "size" | "stream">, signal: AbortSignal): Promise<Photo> {
    signal.throwIfAborted();
    this.#hold(true);
    const end = (): void => this.end();
    signal.addEventListener("abort", end, { once: true });
    try {
      const reply = this.#reply();
      await this.#send(file);
      const message = await reply;
      signal.throwIfAborted();
      return photoOf(message ?? this.#lastWords());
    } finally {
      signal.removeEventListener("abort", end);
      this.#hold(false);
    }
  }

  end(): void {
    this.#child.kill("SIGKILL");
  }

  /** The answer to the next file; undefined where the process ends before. */
  #reply(): Promise<DecoderMessage | undefined> {
    const child = this.#child;
    return new Promise((resolve) => {
      const onMessage = (message: DecoderMessage): void => {
        if (message.kind !== "ready") settle(message);
      };
      const onEnd = (): void => settle(undefined);
      const settle = (message: DecoderMessage | undefined): void => {
        child.off("message", onMessage).off("exit", onEnd).off("error", onEnd);
        resolve(message);
      };
      child.on("message", onMessage).on("exit", onEnd).on("error", onEnd);
    });
  }

  async #send(file: Pick<Blob, "size" | "stream">): Promise<void> {
    const input = this.#child.stdin as Writable;
    const length = Buffer.alloc(LENGTH_BYTES);
    length.writeUInt32LE(file.size);
    input.write(length);
    for await (const chunk of file.stream() as unknown as AsyncIterable<Uint8Array>) {
      const hasRoom = input.write(chunk);
      if (input.destroyed) return;
      if (!hasRoom) await roomIn(input);
    }
  }

  /** A process that ends while it decodes was ended by the file. */
  #lastWords(): DecoderMessage {
    if (!this.#isReady) return { kind: "fault", message: "The decoder's process did not start." };
    const { message: detail, received, allowed } = damagedPhoto();
    return { kind: "unreadable", detail, received, allowed };
  }

  /** Whether it keeps this process running. */
  #hold(held: boolean): void {
    const { channel, stdin } = this.#child;
    const method = held ? "ref" : "unref";
    this.#child[method]();
    channel?.[method]();
    (stdin as (Writable & { ref?(): void; unref?(): void }) | null)?.[method]?.();
  }
}

function photoOf(message: DecoderMessage): Photo {
  if (message.kind === "photo") return message.photo;
  if (message.kind === "unreadable") throw new UnreadablePhoto(message.detail, message.received, message.allowed);
  throw new Error(message.kind === "fault" ? message.message : "The decoder's process gave no answer.");
}

/** Resolves when more can be written, or nothing any more. */
function roomIn(input: Writable): Promise<void> {
  return new Promise((resolve) => {
    const done = (): void => {
      input.off("drain", done).off("close", done);
      resolve();
    };
    input.on("drain", done).on("close", done);
  });
}
