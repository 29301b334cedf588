import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout as delay } from "node:timers/promises";
import { gunzipSync } from "node:zlib";
import { afterEach, describe, expect, it } from "vitest";
import { freePort, ServiceProcess } from "../../load/service";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";

/** A span as OTLP has it in JSON (OpenTelemetry protocol 1.3, trace.proto), as far as it is looked at here. */
interface Span {
  readonly traceId: string;
  readonly spanId: string;
  readonly parentSpanId?: string;
  readonly name: string;
  readonly kind: number;
  readonly startTimeUnixNano: string;
  readonly endTimeUnixNano: string;
  readonly attributes: readonly { key: string; value: { stringValue?: string; intValue?: number } }[];
  readonly status: { readonly code: number };
}
type Attributes = Span["attributes"];

interface Export {
  readonly resourceSpans: readonly {
    readonly resource: { readonly attributes: Attributes };
    readonly scopeSpans: readonly { readonly scope: { readonly name: string }; readonly spans: readonly Span[] }[];
  }[];
}

/** A collector: takes what is sent to it, by the protocol's rules for HTTP. */
class Collector {
  readonly exports: Export[] = [];
  readonly types = new Set<string>();
  readonly paths = new Set<string>();
  answers = true;
  readonly #server: Server;
  readonly port: number;

  private constructor(server: Server) {
    this.#server = server;
    this.port = (server.address() as AddressInfo).port;
    server.on("request", (request, response) => {
      const chunks: Buffer[] = [];
      request.on("data", (chunk: Buffer) => chunks.push(chunk));
      request.on("end", () => {
        if (!this.answers) return;
        const bytes = Buffer.concat(chunks);
        const text = (request.headers["content-encoding"] === "gzip" ? gunzipSync(bytes) : bytes).toString();
        this.types.add(request.headers["content-type"] ?? "");
        this.paths.add(`${request.method} ${request.url}`);
        this.exports.push(JSON.parse(text) as Export);
        response.writeHead(200, { "content-type": "application/json" }).end("{}");
      });
    });
  }

  static async open(port = 0): Promise<Collector> {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(port, "127.0.0.1", resolve));
    return new Collector(server);
  }

  get spans(): Span[] {
    return this.exports.flatMap(({ resourceSpans }) =>
      resourceSpans.flatMap(({ scopeSpans }) => scopeSpans.flatMap(({ spans }) => spans)),
    );
  }

  close(): void {
    this.#server.closeAllConnections();
    this.#server.close();
  }
}

const attributeOf = (attributes: Attributes, key: string) => {
  const value = attributes.find((attribute) => attribute.key === key)?.value;
  return value?.stringValue ?? value?.intValue;
};

let service: ServiceProcess | undefined;
let collector: Collector | undefined;
afterEach(async () => {
  await service?.stop("SIGKILL");
  collector?.close();
});

const startFor = (port: number, more: Record<string, string> = {}) =>
  ServiceProcess.start({
    OTEL_EXPORTER_OTLP_ENDPOINT: `http://127.0.0.1:${port}`,
    OTEL_BSP_SCHEDULE_DELAY: "100",
    OTEL_SERVICE_NAME: "ardvane",
    ...more,
  });

/** The status of an answer. Where a busy machine has the service turn the request away, it is asked again, no more often than so. */
async function ask(
  service: ServiceProcess,
  path: string,
  headers: Record<string, string> = {},
  triesLeft = 8,
): Promise<number> {
  const response = await fetch(service.baseUrl + path, { headers });
  await response.arrayBuffer();
  if (response.status !== 503 || triesLeft === 0) return response.status;
  await delay(250);
  return ask(service, path, headers, triesLeft - 1);
}

/** As many requests, some at once; those that were not answered as they should be. */
async function failures(to: ServiceProcess, requests: number): Promise<number> {
  let failed = 0;
  for (let i = 0; i < requests; i += 20) {
    const statuses = await Promise.all(Array.from({ length: 20 }, () => ask(to, DAY)));
    failed += statuses.filter((status) => status !== 200).length;
  }
  return failed;
}

describe("spans, by the protocol of OpenTelemetry over HTTP", () => {
  it("reach a collector whole, the last of them at the stop", { timeout: 90_000 }, async () => {
    collector = await Collector.open();
    service = await startFor(collector.port);
    const [traceId, parent] = ["4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7"];
    await ask(service, DAY, { traceparent: `00-${traceId}-${parent}-01` });
    const isOurs = (span: Span) => span.traceId === traceId;
    await expect.poll(() => collector?.spans.some(isOurs), { timeout: 10_000 }).toBe(true);
    const day = collector.spans.find(isOurs) as Span;
    expect(day).toMatchObject({ name: "GET /v1/light-windows", kind: 2, parentSpanId: parent });
    expect(day.spanId).toMatch(/^[\da-f]{16}$/);
    const tookMs = Number(BigInt(day.endTimeUnixNano) - BigInt(day.startTimeUnixNano)) / 1e6;
    expect(tookMs).toBeGreaterThan(0);
    expect(tookMs).toBeLessThan(10_000);
    expect(attributeOf(day.attributes, "http.route")).toBe("/v1/light-windows");
    expect(attributeOf(day.attributes, "http.response.status_code")).toBe(200);
    expect(JSON.stringify(collector.exports)).not.toContain("56.6");
    const { resource, scopeSpans } = collector.exports[0]?.resourceSpans[0] ?? {};
    expect(attributeOf(resource?.attributes ?? [], "service.name")).toBe("ardvane");
    expect(scopeSpans?.[0]?.scope.name).toBe("fieldstop");
    expect([...collector.types]).toEqual(["application/json"]);
    expect([...collector.paths]).toEqual(["POST /v1/traces"]);

    await ask(service, "/v1/reference/nothing");
    expect(await service.stop()).toBe(0);
    expect(collector.spans.some(({ name }) => name === "GET /v1/reference/:table")).toBe(true);
  });

  it("are kept for a collector that comes back, no more than so many", { timeout: 90_000 }, async () => {
    const port = await freePort();
    const most = 200;
    service = await startFor(port, { OTEL_BSP_MAX_QUEUE_SIZE: String(most), OTEL_BSP_MAX_EXPORT_BATCH_SIZE: "100" });
    expect(await failures(service, 2000)).toBe(0);
    collector = await Collector.open(port);
    await expect.poll(() => collector?.spans.length, { timeout: 20_000 }).toBeGreaterThanOrEqual(most);
    await new Promise((resolve) => setTimeout(resolve, 1000));
    // those that waited, and one batch that was on its way
    expect(collector.spans.length).toBeLessThanOrEqual(most + 100);
    const before = collector.spans.length;
    await ask(service, "/v1/reference/nothing");
    await expect.poll(() => collector?.spans.length, { timeout: 10_000 }).toBe(before + 1);
  });

  it("hold up neither requests nor the stop where the collector never answers", { timeout: 90_000 }, async () => {
    collector = await Collector.open();
    collector.answers = false;
    service = await startFor(collector.port);
    expect(await failures(service, 200)).toBe(0);
    const toldAt = performance.now();
    expect(await service.stop()).toBe(0);
    expect(performance.now() - toldAt).toBeLessThan(8000);
  });
});
