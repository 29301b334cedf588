import { once } from "node:events";
import { Agent, get } from "node:http";
import { connect } from "node:net";
import { afterEach, describe, expect, it } from "vitest";
import { ServiceProcess } from "../../load/service";

let service: ServiceProcess | undefined;
afterEach(() => service?.stop("SIGKILL"));

describe("a parent that holds a channel to the service", () => {
  it.each(["1", "2"])("takes it with it when it goes, in %s processes", { timeout: 60_000 }, async (processes) => {
    service = await ServiceProcess.start({ FIELDSTOP_PROCESSES: processes }, { channel: true });
    const ended = once(service.child, "exit");
    service.child.disconnect();
    expect(await ended).toEqual([0, null]);
    expect(await service.healthy()).toBe(false);
  });
});

describe("SIGTERM", () => {
  it("finishes a stream that was taken, lets nobody in, and ends with 0", { timeout: 90_000 }, async () => {
    service = await ServiceProcess.start({});
    const places = Array.from({ length: 200 }, (_, i) => ({
      id: `spot-${i}`,
      latitude: 56.6,
      longitude: -9.4,
      date: `2027-${String(1 + (i % 12)).padStart(2, "0")}-${String(1 + (i % 28)).padStart(2, "0")}`,
    }));
    const response = await fetch(`${service.baseUrl}/v1/forecasts`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ places }),
    });
    expect(response.status).toBe(200);
    const code = service.stop();
    const lines = (await response.text()).trim().split("\n");
    expect(lines).toHaveLength(places.length + 1);
    expect(await code).toBe(0);
    expect(await service.healthy()).toBe(false);
  });

  it("ends a process that has nothing to finish at once, kept connections or not", { timeout: 60_000 }, async () => {
    service = await ServiceProcess.start({});
    const agent = new Agent({ keepAlive: true });
    await statusOf(service, "/healthz", agent);
    const askedAt = performance.now();
    expect(await service.stop()).toBe(0);
    expect(performance.now() - askedAt).toBeLessThan(3000);
    agent.destroy();
  });

  it("tells who asks on an open connection to leave it, and ends at once when told again", {
    timeout: 60_000,
  }, async () => {
    service = await ServiceProcess.start({});
    // a body that never comes to its end keeps the process from stopping
    const socket = connect(service.address.port, service.address.host);
    const closed = new Promise((resolve) => socket.on("close", resolve).on("error", resolve));
    let received = "";
    socket.on("data", (chunk) => {
      received += chunk.toString();
    });
    const slow =
      "POST /v1/brackets/plan HTTP/1.1\r\nHost: here\r\nContent-Type: application/json\r\nContent-Length: 2\r\n\r\n";
    socket.write(`${slow}{`);
    const asked = connect(service.address.port, service.address.host);
    asked.on("error", () => {});
    let told = "";
    asked.on("data", (chunk) => {
      told += chunk.toString();
    });
    // a request that was begun is let finish
    asked.write("GET /healthz HTTP/1.1\r\nHost: here\r\n");
    await new Promise((resolve) => setTimeout(resolve, 300));
    service.child.kill("SIGTERM");
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(service.alive).toBe(true);
    asked.write("\r\n");
    await expect.poll(() => told, { timeout: 5000 }).toMatch(/^HTTP\/1\.1 200 .*\r\nConnection: close\r\n/is);
    const askedAt = performance.now();
    expect(await service.stop()).toBe(1);
    expect(performance.now() - askedAt).toBeLessThan(2000);
    await closed;
    expect(received).toBe("");
  });
});

function statusOf({ address }: ServiceProcess, path: string, agent: Agent): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    get({ ...address, path, agent }, (response) => {
      response.resume().on("end", () => resolve(response.statusCode));
    }).on("error", reject);
  });
}
