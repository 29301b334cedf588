import { shedFirst } from "@fieldstop/api/server/shed-first";
import { givingWay, RequestCount } from "@fieldstop/api/workers/give-way";
import { beforeEach, describe, expect, it, vi } from "vitest";

vi.mock("node:timers/promises", () => ({ setTimeout: (ms: number) => rest(ms) }));
const rest = vi.fn(async (_ms: number): Promise<void> => {});

let nowMs = 0;
vi.spyOn(performance, "now").mockImplementation(() => nowMs);

beforeEach(() => {
  rest.mockClear();
  nowMs = 1000;
});

describe("long work that gives way", () => {
  it("goes on at once where no request came since it began", async () => {
    const requests = new RequestCount();
    requests.add();
    const giveWay = givingWay(requests);
    await giveWay();
    expect(rest).not.toHaveBeenCalled();
  });

  it("rests between all slices while requests come", async () => {
    const requests = new RequestCount();
    const giveWay = givingWay(requests);
    requests.add();
    nowMs += 1;
    await giveWay();
    expect(rest.mock.calls).toEqual([[1]]);
    // the event loop may be kept from counting the next by this very thread
    nowMs += 9;
    await giveWay();
    expect(rest).toHaveBeenCalledTimes(2);
    nowMs += 1;
    await giveWay();
    expect(rest).toHaveBeenCalledTimes(2);
  });

  it("rests a millisecond for each request that comes in one, three at most", async () => {
    const requests = new RequestCount();
    const giveWay = givingWay(requests);
    const comeWithin = async (came: number, ms: number): Promise<void> => {
      for (let i = 0; i < came; i++) requests.add();
      nowMs += ms;
      await giveWay();
    };
    await comeWithin(1, 4);
    await comeWithin(8, 4);
    // none was counted: the event loop may not have had a core
    await comeWithin(0, 4);
    await comeWithin(100, 4);
    expect(rest.mock.calls.flat()).toEqual([1, 2, 2, 3]);
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
