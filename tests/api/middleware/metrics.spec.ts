import { prometheusMetrics } from "@fieldstop/api/server/metrics";
import { describe, expect, it } from "vitest";
import { problem, testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";

describe("/metrics", () => {
  it("counts by declared path, and what was kept", async () => {
    const app = testApp({}, { policies: { metrics: prometheusMetrics({ waiting: () => 3 }) } });
    for (let i = 0; i < 3; i++) await app.request(DAY);
    for (const table of ["a", "b"]) await app.request(`/v1/reference/${table}`);
    const response = await app.request("/metrics");
    expect(response.headers.get("Content-Type")).toContain("text/plain");
    const text = await response.text();
    const count = (labels: string) => new RegExp(`${labels} (\\d+)`).exec(text)?.[1];
    const seconds = "fieldstop_request_duration_seconds_count";
    expect(count(`${seconds}{route="/v1/light-windows",method="GET",status="200"}`)).toBe("3");
    expect(count(`${seconds}{route="/v1/reference/:table",method="GET",status="404"}`)).toBe("2");
    expect(count('fieldstop_response_cache_lookups_total{result="hit"}')).toBe("2");
    expect(count("fieldstop_requests_in_flight")).toBe("1");
    expect(count("fieldstop_pool_queue_size")).toBe("3");
    expect(text).toContain("nodejs_eventloop_lag_seconds");
    expect(text).not.toContain("56.6");
  });

  it("is not there where nothing counts", async () => {
    await problem(testApp().request("/metrics"), 404);
  });
});
