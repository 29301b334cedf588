import { describe, expect, it } from "vitest";
import { proveNightly } from "../load/nightly";
import { lacks } from "../load/programs";
import { BUILT_COMMAND } from "./support/runner-process";

// The short form of `npm run test:load -- nightly nightly-queue`.
const short = { places: 100, seed: 20_270_320, withinMs: 150_000 };
const lacking = lacks("redis-server");

describe("a night for many places, with a receiver of every manner and runners that are killed", () => {
  it("is received once from each place, from one machine", { timeout: 200_000 }, async () => {
    const proof = await proveNightly({ ...short, command: BUILT_COMMAND, kills: 3 });
    expect(proof.faults).toEqual([]);
    expect(proof.received).toBe(100);
    expect(proof.kills).toBe(3);
    // it was not easy
    expect(proof.requests).toBeGreaterThan(110);
  });

  const title = "is received once from each place, from three workers and a Redis that is killed";
  it.skipIf(lacking !== undefined)(
    lacking === undefined ? title : `${title} (${lacking})`,
    { timeout: 200_000 },
    async () => {
      const proof = await proveNightly({
        ...short,
        command: BUILT_COMMAND,
        workers: 3,
        kills: 2,
        redisKills: 1,
      });
      expect(proof.faults).toEqual([]);
      expect(proof.received).toBe(100);
      expect(proof.kills + proof.redisKills).toBe(3);
      expect(proof.requests).toBeGreaterThan(110);
    },
  );
});
