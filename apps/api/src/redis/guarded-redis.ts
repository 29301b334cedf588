import { Redis, type RedisOptions } from "ioredis";
import { ReplyLimits } from "./reply-limits";

/** Longest between two tries to connect again [ms]. */
const MAX_BETWEEN_TRIES_MS = 1000;

/**
 * A connection to a Redis that is not trusted: whatever it sends, the process goes on. Replies are checked before the parser sees them;
 * where the parser fails all the same, or a reply comes that nobody asked for, the connection is dropped and made anew.
 */
export class GuardedRedis extends Redis {
  #misbehaved = false;

  constructor(url: string | RedisOptions, options: RedisOptions = {}) {
    if (typeof url === "string") super(url, options);
    else super({ ...url, ...options });
    this.options.retryStrategy = (attempt) => {
      // attempts are counted from the last good connection, which this one seemed to be
      const waitMs = this.#misbehaved ? MAX_BETWEEN_TRIES_MS : Math.min(attempt * 100, MAX_BETWEEN_TRIES_MS);
      this.#misbehaved = false;
      return waitMs;
    };
    // before the first byte: the socket is read no earlier than in the next turn of the event loop
    this.on("connect", () => this.#guardStream());
    // errors of the connection itself have a code, and close it; all others mean that replies are out of step
    this.on("error", (error: Error) => {
      if (!("code" in error)) this.misbehaved(error);
    });
  }

  /** The connections that a library makes for itself are guarded, too. */
  override duplicate(override: Partial<RedisOptions> = {}): GuardedRedis {
    return new GuardedRedis({ ...this.options, ...override });
  }

  /** Drop the connection: what it sends makes no sense. A new one is made as after any other loss. */
  misbehaved(_error: Error): void {
    this.#misbehaved = true;
    this.stream?.destroy();
  }

  #guardStream(): void {
    const { stream } = this;
    const limits = new ReplyLimits();
    const emit = stream.emit.bind(stream) as (event: string | symbol, ...args: unknown[]) => boolean;
    stream.emit = (event: string | symbol, ...args: unknown[]): boolean => {
      if (event !== "data") return emit(event, ...args);
      // what was read before the connection was dropped
      if (stream.destroyed) return true;
      try {
        limits.check(args[0] as Buffer);
        return emit(event, ...args);
      } catch (error) {
        this.misbehaved(error as Error);
        return true;
      }
    };
  }
}
