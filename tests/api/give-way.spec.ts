import { givingWay, RequestCount } from "@fieldstop/api/node/give-way";
import { shedFirst } from "@fieldstop/api/node/shed-first";
import { beforeEach, describe, expect, it, vi } from "vitest";

vi.mock("node:timers/promises", () => ({ setTimeout: (ms: number) => rest(ms) }));
const rest = vi.fn(async (_ms: number): Promise<void> => {});

beforeEach(() => void rest.mockClear());

describe("long work that gives way", () => {
  it("goes on at once where no request came", async () => {
    const giveWay = givingWay(new RequestCount());
    await giveWay();
    expect(rest).not.toHaveBeenCalled();
  });

  it("rests once for the requests that came meanwhile", async () => {
    const requests = new RequestCount();
    const giveWay = givingWay(requests);
    requests.add();
    requests.add();
    await giveWay();
    expect(rest.mock.calls).toEqual([[1]]);
    await giveWay();
    expect(rest).toHaveBeenCalledTimes(1);
  });

  it("counts by the memory that threads share", async () => {
    const requests = new RequestCount();
    const giveWay = givingWay(new RequestCount(requests.shared));
    requests.add();
    await giveWay();
    expect(rest).toHaveBeenCalledTimes(1);
  });

  it("is told of requests for answers, not of pages and probes", () => {
    const requests = new RequestCount();
    const settings = {
      mostInFlight: 1,
      inFlight: () => 0,
      corsOrigins: "*" as const,
      onRequest: () => requests.add(),
    };
    const { onRequest } = shedFirst(settings, () => {});
    for (const url of ["/", "/healthz", "/metrics", "/v1/sun?latitude=56.6&longitude=-9.4"]) {
      onRequest({ url, method: "GET" } as never, { destroyed: true } as never);
    }
    expect(requests.count).toBe(1);
  });
});
