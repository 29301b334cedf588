import { openTelemetry } from "@fieldstop/api/server/tracing";
import { InMemorySpanExporter, SimpleSpanProcessor } from "@opentelemetry/sdk-trace-node";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";

describe("traces", () => {
  it("have a span for each request, child of the caller's", async () => {
    const exporter = new InMemorySpanExporter();
    const tracing = openTelemetry(new SimpleSpanProcessor(exporter));
    const app = testApp({}, { policies: { tracing } });
    const [traceId, parent] = ["4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7"];
    await app.request(DAY, { headers: { traceparent: `00-${traceId}-${parent}-01` } });
    await app.request("/v1/reference/nothing");
    const [day, table] = exporter.getFinishedSpans();
    expect(day?.name).toBe("GET /v1/light-windows");
    expect(day?.spanContext().traceId).toBe(traceId);
    expect(day?.parentSpanContext?.spanId).toBe(parent);
    expect(day?.attributes).toMatchObject({ "http.route": "/v1/light-windows", "http.response.status_code": 200 });
    expect(table?.attributes["http.route"]).toBe("/v1/reference/:table");
    expect(JSON.stringify(day?.attributes)).not.toContain("56.6");
    await tracing.close();
  });
});
