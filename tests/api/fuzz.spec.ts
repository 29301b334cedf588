import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { operations } from "../load/contract";
import { fuzz } from "../load/fuzz";
import { HOSTILE } from "../load/hostile";
import { draw } from "../load/requests";
import { ServiceProcess } from "../load/service";

// The short form of `npm run test:load`.
const REQUESTS = 800;
const SEED = 20_270_320;

describe("drawn requests", () => {
  it("ask for every operation", () => {
    const asked = new Set([...draw(20 * operations.length, SEED)].map(({ operation }) => operation.id));
    expect(asked.size).toBe(operations.length);
  });

  it("are the same for the same seed", () => {
    const asked = (seed: number) => [...draw(200, seed)].map(({ path, body }) => `${path} ${body?.toString("base64")}`);
    expect(asked(1)).toEqual(asked(1));
    expect(asked(1)).not.toEqual(asked(2));
  });
});

describe("the service under requests good and bad", () => {
  let service: ServiceProcess;
  beforeAll(async () => {
    service = await ServiceProcess.start();
  });
  afterAll(() => service.stop());

  it("keeps the contract in every answer, and lives", { timeout: 300_000 }, async () => {
    const { faults, requests, hostile, statuses } = await fuzz(service, { requests: REQUESTS, seed: SEED });
    expect(faults).toEqual([]);
    expect(requests).toBe(REQUESTS);
    expect(hostile).toBe(HOSTILE.length);
    // enough of it got through to be answered, and enough was refused
    expect(statuses["200"]).toBeGreaterThan(REQUESTS / 6);
    expect(statuses["400"]).toBeGreaterThan(REQUESTS / 10);
    expect(service.log).not.toContain('"msg":"fault"');
  });
});
