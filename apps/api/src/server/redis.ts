import { type Command, ReplyError } from "ioredis";
import type { Logger } from "pino";
import { Breaker } from "../redis/breaker";
import { GuardedRedis } from "../redis/guarded-redis";

/** Longest that a request waits for Redis before it goes on without [ms]. */
const PATIENCE_MS = 100;
/** An answer that takes longer is late [ms]: Redis on the same network takes 1 ms or less. */
const LATE_MS = 50;

/**
 * The Redis that replicas share. It keeps nobody waiting: while it is away every command fails at once; where it answers late or does
 * not answer, or sends what makes no sense, it is left alone for a while. The log tells once of each time it goes and comes back.
 */
export class SharedRedis extends GuardedRedis {
  readonly #log: Logger;
  readonly #breaker = new Breaker();
  #toldAway = false;

  constructor(url: string, log: Logger) {
    super(url, {
      enableOfflineQueue: false,
      maxRetriesPerRequest: 0,
      commandTimeout: PATIENCE_MS,
      connectTimeout: 1000,
    });
    this.#log = log;
    this.on("error", (error) => this.#tell(error));
    this.on("ready", () => this.#tell());
  }

  /** Whether this process goes on without it. */
  get isAway(): boolean {
    return this.status !== "ready" || this.#breaker.isOpen;
  }

  override misbehaved(error: Error): void {
    this.#breaker.open();
    this.#tell(error);
    super.misbehaved(error);
  }

  override sendCommand(command: Command, stream?: Parameters<GuardedRedis["sendCommand"]>[1]): unknown {
    // the first words on a new connection; all others fail at once
    if (this.status !== "ready") return super.sendCommand(command, stream);
    if (!this.#breaker.admits()) {
      command.reject(new Error("Redis is left alone for a while"));
      return command.promise;
    }
    const sentAtMs = performance.now();
    const settled = (answered: boolean): void => {
      if (answered && performance.now() - sentAtMs <= LATE_MS) this.#breaker.succeeded(sentAtMs);
      // nobody answers on a connection that is gone, which is no sign of the next one
      else if (this.status === "ready") this.#late();
      this.#tell();
    };
    command.promise.then(
      () => settled(true),
      (error: unknown) => settled(error instanceof ReplyError),
    );
    return super.sendCommand(command, stream);
  }

  #late(): void {
    if (this.#breaker.isOpen) return;
    this.#breaker.failed();
    if (!this.#breaker.isOpen) return;
    this.#tell(new Error(`it took more than ${LATE_MS} ms to answer`));
    // what comes late would be taken for answers to what is asked next
    super.misbehaved(new Error("late"));
  }

  #tell(error?: Error): void {
    const { isAway } = this;
    if (isAway === this.#toldAway) return;
    // it is on its way: nothing is known yet
    if (isAway && error === undefined) return;
    this.#toldAway = isAway;
    if (isAway) this.#log.warn({ err: error }, "Redis is away; going on without");
    else this.#log.info("Redis is back");
  }
}

/** Connect to the Redis that replicas share. */
export function connectRedis(url: string, log: Logger): SharedRedis {
  return new SharedRedis(url, log);
}
