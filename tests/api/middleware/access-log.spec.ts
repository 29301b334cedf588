import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";

describe("the log", () => {
  it("has a line for each request, without a person in it", async () => {
    const entries: AccessEntry[] = [];
    const app = testApp({}, { policies: { log: (entry) => entries.push(entry) } });
    const traceId = "4bf92f3577b34da6a3ce929d0e0e4736";
    await app.request(`${DAY}&name=Mhairi`, { headers: { traceparent: `00-${traceId}-00f067aa0ba902b7-01` } });
    await app.request("/v1/reference/nothing", { headers: { traceparent: "00-nonsense" } });
    await app.request("/secret/path");
    expect(entries.map(({ route, status }) => [route, status])).toEqual([
      ["/v1/light-windows", 200],
      ["/v1/reference/:table", 404],
      ["unmatched", 404],
    ]);
    expect(entries[0]).toMatchObject({ traceId, near: [56.6, -9.4], method: "GET" });
    expect(entries[1]?.traceId).toBeUndefined();
    // neither the name nor the digits of the place beyond a tenth of a degree
    expect(JSON.stringify(entries)).not.toMatch(/Mhairi|56\.61|9\.43|secret/);
  });
});
