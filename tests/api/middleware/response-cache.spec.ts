import type { Terrain } from "@fieldstop/terrain";
import { afterEach, describe, expect, it, vi } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20";

/** An app that counts how often it had to look up a time zone, as each answer that is not kept does. */
function counted(settings: { responseCacheBytes?: number } = {}) {
  const seen = { answers: 0, dataVersion: "1", nowMs: Date.parse("2027-03-20T17:00:00Z") };
  const terrain: Terrain = {
    horizonAt: async () => null,
    highestNear: async () => null,
    groundElevationM: async () => null,
    groundElevationsM: async () => [],
    get dataVersion() {
      return seen.dataVersion;
    },
  };
  const app = testApp(
    {
      terrain,
      nowMs: () => seen.nowMs,
      timeZoneAt: () => {
        seen.answers++;
        return "Europe/London";
      },
    },
    { policies: settings },
  );
  return { app, seen };
}

afterEach(() => vi.restoreAllMocks());

describe("answers that were kept", () => {
  it("are the same bytes, computed once", async () => {
    const { app, seen } = counted();
    const first = await (await app.request(DAY)).text();
    const second = await app.request(DAY);
    expect(await second.text()).toBe(first);
    expect(seen.answers).toBe(1);
    expect(second.headers.get("Age")).toBeNull();
  });

  it("are told apart by the whole query and by the type", async () => {
    const { app, seen } = counted();
    const horizon = "/v1/horizon.svg?latitude=56.6&longitude=-9.4&date=2027-03-20";
    await app.request(DAY);
    await app.request(`${DAY}&elevationM=10`);
    expect((await app.request(horizon, { headers: { Accept: "image/*" } })).status).toBe(200);
    expect((await app.request(horizon, { headers: { Accept: "application/json" } })).status).toBe(406);
    expect(seen.answers).toBe(3);
  });

  it("end with the elevation data that they were made from", async () => {
    const { app, seen } = counted();
    await app.request(DAY);
    const before = performance.now();
    vi.spyOn(performance, "now").mockImplementation(() => before + 1500);
    seen.dataVersion = "2";
    await app.request(DAY);
    expect(seen.answers).toBe(2);
  });

  it("tell their age, and end when it is over", async () => {
    const { app, seen } = counted();
    const today = DAY.replace("&date=2027-03-20", "");
    await app.request(today);
    seen.nowMs += 42_000;
    expect((await app.request(today)).headers.get("Age")).toBe("42");
    expect(seen.answers).toBe(1);
    seen.nowMs += 18_000;
    expect((await app.request(today)).headers.get("Age")).toBeNull();
    expect(seen.answers).toBe(2);
  });

  it("are bounded in bytes, the longest unused leaving first", async () => {
    const { app, seen } = counted({ responseCacheBytes: 200_000 });
    const day = (n: number) => DAY.replace("-20", `-${String(n).padStart(2, "0")}`);
    for (let n = 1; n <= 30; n++) await app.request(day(n));
    expect(seen.answers).toBe(30);
    await app.request(day(30));
    expect(seen.answers).toBe(30);
    await app.request(day(1));
    expect(seen.answers).toBe(31);
  });

  it("are never those of a moment or of a problem", async () => {
    const { app, seen } = counted();
    for (let i = 0; i < 2; i++) await app.request("/v1/sun?latitude=56.6&longitude=-9.4");
    expect(seen.answers).toBe(2);
    for (let i = 0; i < 2; i++) {
      expect((await app.request("/v1/light-windows?latitude=56.6&longitude=-9.4&date=2227-03-20")).status).toBe(422);
    }
    expect(seen.answers).toBe(4);
  });
});
