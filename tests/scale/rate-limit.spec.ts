import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { connectRedis, type SharedRedis } from "@fieldstop/api/server/redis";
import { pino } from "pino";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { lacks, Program } from "../load/programs";

const log = pino({ level: "silent" });
const reason = lacks("redis-server");

describe.skipIf(reason)(`a limit shared in Redis${reason ? ` (${reason})` : ""}`, () => {
  let server: Program;
  const connections: SharedRedis[] = [];
  beforeAll(async () => {
    server = await Program.redis();
    for (let i = 0; i < 2; i++) connections.push(connectRedis(`redis://127.0.0.1:${server.address.port}`, log));
    await Promise.all(connections.map((redis) => new Promise((resolve) => redis.once("ready", resolve))));
  });
  afterAll(async () => {
    for (const redis of connections) redis.disconnect();
    await server.remove();
  });

  it("is one for all replicas, each replica's own while Redis is away, and one again when it is back", async () => {
    const [first, second] = connections.map((redis) => rateLimiter(4, redis)) as [
      ReturnType<typeof rateLimiter>,
      ReturnType<typeof rateLimiter>,
    ];
    expect(await first.take("club", 2)).toMatchObject({ allowed: true, remaining: 2 });
    expect(await second.take("club", 1)).toMatchObject({ allowed: true, remaining: 1 });
    expect(await first.take("club", 2)).toMatchObject({ allowed: false, remaining: 0 });

    await server.kill();
    const askedAt = performance.now();
    expect(await first.take("guest", 3)).toMatchObject({ allowed: true, remaining: 1 });
    expect(await second.take("guest", 3)).toMatchObject({ allowed: true, remaining: 1 });
    expect(await second.take("guest", 3)).toMatchObject({ allowed: false });
    expect(performance.now() - askedAt).toBeLessThan(500);

    await server.restart();
    await expect.poll(() => connections.every(({ status }) => status === "ready"), { timeout: 5000 }).toBe(true);
    expect(await first.take("visitor", 2)).toMatchObject({ allowed: true, remaining: 2 });
    expect(await second.take("visitor", 2)).toMatchObject({ allowed: true, remaining: 0 });
    expect(await first.take("visitor", 1)).toMatchObject({ allowed: false });
  });
});
