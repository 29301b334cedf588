import type { ByteStore } from "@fieldstop/terrain";
import type { SharedRedis } from "./redis";

/** How long what nobody asks for is kept [s]: skylines do not change, but places fall out of use. */
const KEPT_FOR_S = 30 * 24 * 3600;

/** Bytes that all replicas share. While Redis is away there is nothing in it. */
export class RedisStore implements ByteStore {
  readonly #redis: SharedRedis;
  readonly #prefix: string;

  constructor(redis: SharedRedis, prefix: string) {
    this.#redis = redis;
    this.#prefix = prefix;
  }

  async get(key: string): Promise<Uint8Array | null> {
    // counted anew from each use
    const reply = this.#redis.getexBuffer(this.#prefix + key, "EX", KEPT_FOR_S);
    const value: unknown = await reply.catch(() => null);
    if (value === null || Buffer.isBuffer(value)) return value;
    this.#redis.misbehaved(new Error("Redis answered GETEX with something other than bytes"));
    return null;
  }

  async set(key: string, bytes: Uint8Array): Promise<void> {
    await this.#redis.set(this.#prefix + key, Buffer.from(bytes), "EX", KEPT_FOR_S).catch(() => {});
  }

  async delete(key: string): Promise<void> {
    await this.#redis.del(this.#prefix + key).catch(() => {});
  }
}
