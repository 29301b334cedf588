import { setTimeout as delay } from "node:timers/promises";
import { context, propagation, SpanKind, SpanStatusCode, type TextMapGetter, trace } from "@opentelemetry/api";
import { OTLPTraceExporter } from "@opentelemetry/exporter-trace-otlp-http";
import { resourceFromAttributes } from "@opentelemetry/resources";
import { BatchSpanProcessor, NodeTracerProvider, type SpanProcessor } from "@opentelemetry/sdk-trace-node";
import { UNMATCHED } from "../middleware/request-context";
import type { Tracing } from "../middleware/tracing";

/** Longest that a stop waits for a collector to take the last spans [ms]. */
const LAST_SPANS_MS = 3000;

const fields: TextMapGetter<Headers> = {
  get: (headers, name) => headers.get(name) ?? undefined,
  // asked for by none of the standard propagators of traces
  keys: () => [],
};

/**
 * A span for each request, by the OpenTelemetry SDK and its standard variables (OTEL_EXPORTER_OTLP_ENDPOINT, OTEL_SERVICE_NAME, OTEL_TRACES_SAMPLER).
 * Attributes are those of the HTTP semantic conventions that name no person: neither address nor query.
 * @param processor where spans go; a collector by default
 */
export function openTelemetry(processor: SpanProcessor = new BatchSpanProcessor(new OTLPTraceExporter())): Tracing {
  const name = process.env["OTEL_SERVICE_NAME"] ?? "fieldstop";
  const provider = new NodeTracerProvider({
    resource: resourceFromAttributes({ "service.name": name }),
    spanProcessors: [processor],
  });
  provider.register();
  const tracer = trace.getTracer("fieldstop");
  return {
    within: (request, answer) => {
      const { method, headers } = request.request;
      const { template } = request.matched;
      const route = template === UNMATCHED ? undefined : template;
      const parent = propagation.extract(context.active(), headers, fields);
      const attributes = {
        "http.request.method": method,
        ...(route !== undefined && { "http.route": route }),
        "fieldstop.request_id": request.requestId,
      };
      const settings = { kind: SpanKind.SERVER, attributes };
      return tracer.startActiveSpan(
        route === undefined ? method : `${method} ${route}`,
        settings,
        parent,
        async (span) => {
          request.traceId = span.spanContext().traceId;
          try {
            const answered = await answer();
            span.setAttribute("http.response.status_code", answered.status);
            if (answered.status >= 500) span.setStatus({ code: SpanStatusCode.ERROR });
            return answered;
          } catch (error) {
            span.setStatus({ code: SpanStatusCode.ERROR });
            throw error;
          } finally {
            span.end();
          }
        },
      );
    },
    // spans are no reason to fail a stop, or to put it off for long
    close: async () => {
      const sent = provider.shutdown().catch(() => undefined);
      await Promise.race([sent, delay(LAST_SPANS_MS, undefined, { ref: false })]);
    },
  };
}
