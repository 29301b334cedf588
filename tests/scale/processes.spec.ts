import { existsSync } from "node:fs";
import { createServer } from "node:net";
import { afterEach, describe, expect, it } from "vitest";
import { ServiceProcess } from "../load/service";

// All cores of one machine: several processes behind one port.
const PLACE = "latitude=56.6&longitude=-9.4";
const tellsChildren = existsSync(`/proc/self/task/${process.pid}/children`);

let service: ServiceProcess | undefined;
afterEach(() => service?.stop("SIGKILL"));

async function until(holds: () => boolean | Promise<boolean>, withinMs = 20_000): Promise<void> {
  for (const end = Date.now() + withinMs; !(await holds()); ) {
    if (Date.now() > end) throw new Error(`not within ${withinMs} ms: ${holds}`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}

describe.skipIf(!tellsChildren)("several processes (skipped where /proc does not list children)", () => {
  it("replaces one that ends, and answers meanwhile", { timeout: 90_000 }, async () => {
    const started = await ServiceProcess.start({ FIELDSTOP_PROCESSES: "2" });
    service = started;
    await until(() => started.children().length === 2);
    const [victim, other] = started.children() as [number, number];
    process.kill(victim, "SIGKILL");
    await until(() => !started.children().includes(victim));
    // one may be asked over a connection to the one that is gone
    await until(() => started.healthy(`/v1/sun?${PLACE}`), 5000);
    await until(() => started.children().length === 2);
    expect(started.children()).toContain(other);
    await until(() => started.log.includes("a process ended by itself"));
  });

  it("counts what all of them answered, whichever is asked", { timeout: 90_000 }, async () => {
    const started = await ServiceProcess.start({ FIELDSTOP_PROCESSES: "2" });
    service = started;
    await until(() => started.children().length === 2);
    const requests = 40;
    for (let i = 0; i < requests; i++) {
      const response = await fetch(`${started.baseUrl}/v1/dew-point?temperatureC=8&relativeHumidity=${50 + i}`, {
        headers: { Connection: "close" },
      });
      expect(response.status).toBe(200);
    }
    for (let i = 0; i < 4; i++) {
      const metrics = await fetch(`${started.baseUrl}/metrics`, { headers: { Connection: "close" } });
      const text = await metrics.text();
      const counted = /^fieldstop_request_duration_seconds_count\{route="\/v1\/dew-point".*\} (\d+)$/m.exec(text);
      expect(Number(counted?.[1])).toBe(requests);
      expect(text).toMatch(/^nodejs_eventloop_lag_max_seconds /m);
    }
  });

  it("finishes what every process took before it ends", { timeout: 90_000 }, async () => {
    const started = await ServiceProcess.start({ FIELDSTOP_PROCESSES: "2" });
    service = started;
    await until(() => started.children().length === 2);
    const search = {
      place: { latitude: 56.6, longitude: -9.4 },
      body: "moon",
      target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
      from: "2027-01-01",
      to: "2044-12-31",
    };
    const asked = Array.from({ length: 6 }, () =>
      fetch(`${started.baseUrl}/v1/alignments`, {
        method: "POST",
        headers: { "Content-Type": "application/json", Connection: "close" },
        body: JSON.stringify(search),
      }).then(async (response) => ({ status: response.status, text: await response.text() })),
    );
    await new Promise((resolve) => setTimeout(resolve, 400));
    const code = started.stop();
    const answers = await Promise.all(asked);
    expect(answers.map(({ status }) => status)).toEqual(Array(6).fill(200));
    expect(new Set(answers.map(({ text }) => text)).size).toBe(1);
    expect(await code).toBe(0);
    expect(await started.healthy()).toBe(false);
  });
});

describe("a start that cannot succeed", () => {
  it("ends with the reason, however many processes were asked for", async () => {
    const taken = createServer();
    await new Promise<void>((resolve) => taken.listen(0, "127.0.0.1", resolve));
    const { port } = taken.address() as { port: number };
    const start = ServiceProcess.start({ FIELDSTOP_PROCESSES: "2", PORT: String(port) });
    await expect(start).rejects.toThrow(/EADDRINUSE/);
    taken.close();
  });
});
