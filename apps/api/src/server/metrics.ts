import cluster from "node:cluster";
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import type { Metrics } from "../middleware/metrics";
import { metricsOfAll } from "./metrics-of-all";

export interface MetricsSources {
  /** Long work that waits for a free thread. */
  readonly waiting: () => number;
}

/** From a cached answer to a cold skyline [s]. */
const BUCKETS = [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30];

/** In Prometheus' form; of several processes behind one port, what all of them counted. */
export function prometheusMetrics({ waiting }: MetricsSources): Metrics {
  const registers = [new Registry()];
  const [register] = registers as [Registry];
  collectDefaultMetrics({ register });
  const seconds = new Histogram({
    name: "fieldstop_request_duration_seconds",
    help: "Time until the answer began, by route, method and status",
    labelNames: ["route", "method", "status"] as const,
    buckets: BUCKETS,
    registers,
  });
  // counted here until they are asked for: finding a counter by its labels takes as long as finding the answer
  const lookedUp = { hit: 0, miss: 0 };
  new Counter({
    name: "fieldstop_response_cache_lookups_total",
    help: "Answers that were looked for among those kept",
    labelNames: ["result"] as const,
    registers,
    collect() {
      for (const result of ["hit", "miss"] as const) {
        this.inc({ result }, lookedUp[result]);
        lookedUp[result] = 0;
      }
    },
  });
  const shed = new Counter({
    name: "fieldstop_shed_requests_total",
    help: "Requests that were asked to come back, by what was overloaded",
    labelNames: ["why"] as const,
    registers,
  });
  const shedBy = { "in-flight": shed.labels("in-flight"), "event-loop": shed.labels("event-loop") };
  let inFlight = (): number => 0;
  const gauge = (name: string, help: string, read: () => number) =>
    new Gauge({
      name,
      help,
      registers,
      collect() {
        this.set(read());
      },
    });
  gauge("fieldstop_requests_in_flight", "Requests that were taken and not answered yet", () => inFlight());
  const ofAll = cluster.isWorker ? metricsOfAll(register) : undefined;
  gauge("fieldstop_pool_queue_size", "Long work that waits for a free thread", waiting);
  return {
    answered: (route, method, status, duration) => seconds.observe({ route, method, status }, duration),
    cacheLookedUp: (hit) => {
      lookedUp[hit ? "hit" : "miss"]++;
    },
    shed: (why) => shedBy[why].inc(),
    setInFlight: (read) => {
      inFlight = read;
    },
    text: async () => ({ body: (await ofAll?.()) ?? (await register.metrics()), type: register.contentType }),
  };
}
