import { afterEach, describe, expect, it } from "vitest";
import { ServiceProcess } from "../../prove/service";

let service: ServiceProcess | undefined;
afterEach(() => service?.stop("SIGKILL"));

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
});
