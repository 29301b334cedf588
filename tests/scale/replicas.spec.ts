import { createFieldstop } from "@fieldstop/sdk";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Address, Caller } from "../load/exchange";
import { lacks, Program } from "../load/programs";
import { ServiceProcess } from "../load/service";

// Many machines, on one: two replicas behind nginx, sharing Redis.
const reason = lacks("redis-server", "nginx");
const place = { latitude: 56.6, longitude: -9.4 };
const evening = {
  place: { ...place, name: "Ardvane Strand" },
  date: "2027-03-20",
  session: "evening" as const,
  camera: { sensor: "full-frame" as const, focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
};

describe.skipIf(reason)(`replicas behind a balancer${reason ? ` (${reason})` : ""}`, () => {
  let redis: Program;
  let balancer: Program;
  let replicas: ServiceProcess[];
  const start = () => ServiceProcess.start({ FIELDSTOP_REDIS_URL: `redis://127.0.0.1:${redis.address.port}` });
  beforeAll(async () => {
    redis = await Program.redis();
    replicas = await Promise.all([start(), start()]);
    balancer = await Program.nginx(replicas.map(({ address }) => address));
  });
  afterAll(async () => {
    await Promise.all([balancer?.remove(), redis?.remove(), ...(replicas ?? []).map((one) => one.stop("SIGKILL"))]);
  });

  it("answer byte for byte the same", async () => {
    const asked: readonly (readonly [string, string, unknown?])[] = [
      ["GET", "/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T18:00:00Z"],
      ["GET", "/v1/moon?latitude=56.6&longitude=-9.4&instant=2027-03-20T18:00:00Z"],
      ["GET", "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20"],
      ["GET", "/v1/horizon?latitude=56.63&longitude=-9.41&stepDeg=0.5"],
      ["GET", "/v1/horizon.svg?latitude=56.6&longitude=-9.4&date=2027-03-20"],
      ["GET", "/openapi.json"],
      ["POST", "/v1/outings/plan", evening],
      ["POST", "/v1/light-levels", { place, date: "2027-03-20", stepMinutes: 10 }],
    ];
    const callers = replicas.map(({ address }) => new Caller(address, 1));
    for (const [method, path, body] of asked) {
      const text = body === undefined ? undefined : JSON.stringify(body);
      const headers: Record<string, string> = body === undefined ? {} : { "content-type": "application/json" };
      const answers = () => Promise.all(callers.map((caller) => caller.ask(method, path, headers, text)));
      // a busy machine may turn some away at first
      await expect
        .poll(async () => (await answers()).map(({ status }) => status), { timeout: 20_000 })
        .toEqual([200, 200]);
      const [one, other] = await answers();
      expect(one?.status, path).toBe(200);
      expect(other?.text, path).toBe(one?.text);
      expect(other?.headers["etag"], path).toBe(one?.headers["etag"]);
    }
    for (const caller of callers) caller.close();
  });

  it("count for those who ask them, not for strangers at the balancer", async () => {
    const status = ({ address: { host, port } }: { address: Address }) =>
      fetch(`http://${host}:${port}/metrics`).then((response) => response.status);
    expect(await Promise.all([...replicas, balancer].map(status))).toEqual([200, 200, 404]);
  });

  it("lose no request of the SDK when one is killed under load", { timeout: 120_000 }, async () => {
    const fieldstop = createFieldstop({ baseUrl: `http://127.0.0.1:${balancer.address.port}` });
    const expected = JSON.stringify(await fieldstop.outings.planOuting(evening));
    const failures: string[] = [];
    let answered = 0;
    let going = true;
    const caller = async (): Promise<void> => {
      while (going) {
        try {
          const plan = await fieldstop.outings.planOuting(evening);
          if (JSON.stringify(plan) !== expected) failures.push("another answer");
          answered++;
        } catch (error) {
          failures.push(String(error));
        }
      }
    };
    const callers = Array.from({ length: 8 }, caller);
    await new Promise((resolve) => setTimeout(resolve, 1500));
    const before = answered;
    const [victim] = replicas as [ServiceProcess, ServiceProcess];
    await victim.stop("SIGKILL");
    await new Promise((resolve) => setTimeout(resolve, 2500));
    const without = answered;
    replicas[0] = await ServiceProcess.start({ PORT: String(victim.address.port) });
    await new Promise((resolve) => setTimeout(resolve, 2500));
    going = false;
    await Promise.all(callers);
    expect(failures).toEqual([]);
    expect(before).toBeGreaterThan(10);
    expect(without - before).toBeGreaterThan(10);
    expect(answered - without).toBeGreaterThan(10);
  });
});
