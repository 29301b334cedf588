import type { Answer } from "@fieldstop/api/middleware/answer";
import { Load } from "@fieldstop/api/middleware/load";
import { prometheusMetrics } from "@fieldstop/api/server/metrics";
import { describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20";

describe("overload", () => {
  it("is said in a problem that tells when to come back, with all headers of any answer", async () => {
    const shed: string[] = [];
    const app = testApp(
      {},
      {
        policies: { eventLoopLags: () => true, onShed: (why: string) => shed.push(why) },
      },
    );
    const response = await app.request(DAY, { headers: { "X-Request-Id": "mine" } });
    expect(response.headers.get("Retry-After")).toBe("1");
    expect(response.headers.get("Cache-Control")).toBe("no-store");
    expect(response.headers.get("X-Request-Id")).toBe("mine");
    expect(response.headers.get("Access-Control-Allow-Origin")).toBe("*");
    expect(response.headers.get("X-Content-Type-Options")).toBe("nosniff");
    expect((await problem(response, 503)).instance).toBe("/v1/light-windows");
    expect(shed).toEqual(["event-loop"]);
  });

  it("is what is computed at once, until it is done", async () => {
    const done: (() => void)[] = [];
    const terrain = {
      horizonAt: () => new Promise<null>((resolve) => done.push(() => resolve(null))),
      highestNear: async () => null,
      groundElevationM: async () => null,
      groundElevationsM: async () => [],
      dataVersion: "1",
    };
    const metrics = prometheusMetrics({ waiting: () => 0 });
    const app = testApp({ terrain }, { policies: { maxConcurrentRequests: 2, metrics } });
    const taken = [1, 2].map((day) => app.request(DAY.replace("-20", `-2${day}`)));
    await expect.poll(() => done.length).toBe(2);
    expect((await app.request(DAY)).status).toBe(503);
    expect((await metrics.text()).body).toMatch(/^fieldstop_shed_requests_total\{why="in-flight"\} 1$/m);
    for (const go of done) go();
    for (const response of taken) expect((await response).status).toBe(200);
    const after = app.request(DAY);
    await expect.poll(() => done.length).toBe(3);
    done[2]?.();
    expect((await after).status).toBe(200);
  });
});

describe("a stream", () => {
  const streamed = async (load: Load, body: ReadableStream<Uint8Array>) => {
    const answer = await load.count(async (): Promise<Answer> => ({ body, status: 200, headers: {} }));
    return (answer.body as ReadableStream<Uint8Array>).getReader();
  };
  const source = (chunks: number) => {
    let left = chunks;
    return new ReadableStream<Uint8Array>(
      {
        pull(controller) {
          if (left-- > 0) controller.enqueue(new Uint8Array(1));
          else controller.close();
        },
      },
      { highWaterMark: 0 },
    );
  };

  it("counts until its end", async () => {
    const load = new Load({});
    const reader = await streamed(load, source(2));
    for (let read = 0; read < 2; read++) {
      expect((await reader.read()).done).toBe(false);
      expect(load.inFlight).toBe(1);
    }
    expect((await reader.read()).done).toBe(true);
    expect(load.inFlight).toBe(0);
  });

  it("counts until its reader goes, or until it fails", async () => {
    const load = new Load({});
    const reader = await streamed(load, source(9));
    await reader.read();
    await reader.cancel();
    expect(load.inFlight).toBe(0);
    const failing = new ReadableStream<Uint8Array>({
      pull: (controller) => controller.error(new Error("no")),
    });
    const second = await streamed(load, failing);
    await expect(second.read()).rejects.toThrow("no");
    expect(load.inFlight).toBe(0);
  });
});
