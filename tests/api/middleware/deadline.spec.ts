import { describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";

describe("a deadline", () => {
  it("ends the wait with 503", async () => {
    const never = new Promise<never>(() => {});
    const terrain = {
      horizonAt: () => never,
      highestNear: async () => null,
      groundElevationM: () => never,
      groundElevationsM: async () => [],
      dataVersion: "1",
    };
    const app = testApp({ terrain }, { policies: { deadlineMs: 50 } });
    const response = await app.request("/v1/horizon?latitude=56.6&longitude=-9.4");
    expect(response.headers.get("Retry-After")).toBe("1");
    await problem(response, 503);
    expect((await app.request(DAY)).status).toBe(200);
  });
});
