import { join } from "node:path";
import { createApp } from "@fieldstop/api/app";
import type { RateLimiter } from "@fieldstop/api/middleware/rate-limit";
import { photoReader } from "@fieldstop/api/photos/sharp-reader";
import { stationDatabase } from "@fieldstop/api/tides/station-database";
import { createTerrain } from "@fieldstop/terrain";
import tzLookup from "@photostructure/tz-lookup";
import fc from "fast-check";
import { valuesOf } from "../tests/load/arbitraries";
import { type Operation, operations, resolved, type Schema } from "../tests/load/contract";

/**
 * Processor time for each point that an operation counts, at its worst legal input: inputs are drawn from the contract, and the dearest is made dearer
 * field by field, by the ends of each range, the longest lists and the other choices, until nothing helps. Everything runs in this process, so that its
 * processor time is all that a request costs, terrain, tides and photographs included. `npm run bench -- points` takes some minutes;
 * BENCH_POINTS_ONLY=planOuting,getHorizon measures these alone.
 */
const DRAWS = Number(process.env["BENCH_POINTS_DRAWS"] ?? 40);
const ROUNDS = Number(process.env["BENCH_POINTS_ROUNDS"] ?? 2);
const LONGEST_MS = Number(process.env["BENCH_POINTS_SECONDS"] ?? 20) * 1000;
const ONLY = process.env["BENCH_POINTS_ONLY"]?.split(",");
const MOST_MS_A_POINT = 30;

let taken = 0;
const counting: RateLimiter = {
  points: 1e9,
  windowSeconds: 60,
  take: async (_, cost) => {
    taken += cost;
    return { allowed: true, remaining: 1e9, resetSeconds: 60 };
  },
};
const app = createApp(
  {
    terrain: await createTerrain({ sources: [join(import.meta.dirname, "../demo/elevation")] }),
    tides: stationDatabase(),
    photos: photoReader(),
    timeZoneAt: (latitude, longitude) => tzLookup(latitude, longitude),
    nowMs: () => Date.UTC(2027, 2, 20, 17),
    reportFault: (error) => console.error(error),
  },
  { policies: { rateLimiter: counting, responseCacheBytes: 0 } },
);

/** An input: the parameters of a query or path, and a body. */
interface Input {
  readonly parameters: Record<string, unknown>;
  readonly body: unknown;
}

interface Cost {
  readonly ms: number;
  readonly points: number;
  readonly status: number;
}

/** A place that no skyline is kept for: a cold one costs most. */
let places = 0;
function moved(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(moved);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => {
      if (key === "longitude" && typeof inner === "number" && Math.abs(inner) < 179)
        return [key, inner + places++ * 1e-5];
      return [key, moved(inner)];
    }),
  );
}

async function costOf(operation: Operation, input: Input): Promise<Cost> {
  const { parameters, body } = moved(input) as Input;
  const query = new URLSearchParams();
  let { path } = operation;
  for (const { name, in: where } of operation.parameters) {
    const value = parameters[name];
    if (value === undefined) continue;
    if (where === "path") path = path.replace(`{${name}}`, encodeURIComponent(String(value)));
    else if (where === "query") query.set(name, String(value));
  }
  const init: RequestInit = { method: operation.method };
  if (operation.body?.type === "application/json") {
    init.headers = { "Content-Type": "application/json" };
    init.body = JSON.stringify(body);
  }
  taken = 0;
  const before = process.cpuUsage();
  const response = await app.request(`${path}?${query}`, init);
  await response.arrayBuffer();
  const { user, system } = process.cpuUsage(before);
  return { ms: (user + system) / 1000, points: taken, status: response.status };
}

/** Of several times the least: what else the process did meanwhile is no cost of the request. */
async function surely(operation: Operation, input: Input): Promise<Cost> {
  const first = await costOf(operation, input);
  if (first.ms < 20) return first;
  const second = await costOf(operation, input);
  return second.ms < first.ms ? second : first;
}

type Path = readonly (string | number)[];

/** Values that a field may take in place of its own: ends of its range, the other choices, its longest list. */
function neighbours(schema: Schema, value: unknown, name = ""): unknown[] {
  const plain = resolved(schema as Schema & { $ref?: string });
  const branches = (plain["oneOf"] ?? plain["anyOf"]) as Schema[] | undefined;
  if (branches !== undefined)
    return branches.flatMap((branch) => fc.sample(valuesOf(branch, name), { numRuns: 2, seed: 7 }));
  if (Array.isArray(plain["enum"])) return plain["enum"] as unknown[];
  if (plain["type"] === "boolean") return [true, false];
  if (plain["type"] === "number" || plain["type"] === "integer") {
    return [plain["minimum"], plain["maximum"]].filter((end) => end !== undefined);
  }
  if (plain["type"] === "array" && Array.isArray(value) && value.length > 0) {
    const most = Math.min(Number(plain["maxItems"] ?? 50), 1000);
    return [Array.from({ length: most }, (_, i) => moved(value[i % value.length]))];
  }
  if (plain["format"] === "date" || plain["format"] === "date-time") {
    return fc.sample(valuesOf(plain, name), { numRuns: 4, seed: 11 });
  }
  return [];
}

/** Every field of an input, present or not, with the values that it could take instead. */
function* changes(schema: Schema, value: unknown, path: Path = []): Generator<readonly [Path, unknown]> {
  const plain = resolved(schema as Schema & { $ref?: string });
  for (const other of neighbours(schema, value, String(path.at(-1) ?? ""))) yield [path, other];
  const branches = (plain["oneOf"] ?? plain["anyOf"] ?? []) as Schema[];
  for (const branch of branches) if (fits(branch, value)) yield* changes(branch, value, path);
  const properties = (plain["properties"] ?? {}) as Record<string, Schema>;
  if (value !== null && typeof value === "object" && !Array.isArray(value)) {
    for (const [key, inner] of Object.entries(properties)) {
      const own = (value as Record<string, unknown>)[key];
      if (own === undefined)
        for (const drawn of fc.sample(valuesOf(inner, key), { numRuns: 2, seed: 3 })) yield [[...path, key], drawn];
      else yield* changes(inner, own, [...path, key]);
    }
  }
  if (Array.isArray(value) && value.length > 0 && plain["items"] !== undefined) {
    yield* changes(plain["items"] as Schema, value[0], [...path, 0]);
  }
}

function fits(schema: Schema, value: unknown): boolean {
  const { properties, required } = resolved(schema as Schema & { $ref?: string }) as {
    properties?: Record<string, Schema>;
    required?: string[];
  };
  if (properties === undefined || value === null || typeof value !== "object") return false;
  return (required ?? []).every((key) => key in value) && Object.keys(value).every((key) => key in properties);
}

function changed(value: unknown, [key, ...rest]: Path, other: unknown): unknown {
  if (key === undefined) return other;
  if (Array.isArray(value)) return value.map((one, i) => (i === key ? changed(one, rest, other) : one));
  return { ...(value as object), [key]: changed((value as Record<string | number, unknown>)[key], rest, other) };
}

function inputSchema({ parameters, body }: Operation): Schema {
  return {
    type: "object",
    properties: {
      parameters: {
        type: "object",
        properties: Object.fromEntries(parameters.map(({ name, schema }) => [name, schema])),
        required: parameters.filter(({ required }) => required).map(({ name }) => name),
      },
      ...(body !== undefined && { body: body.schema }),
    },
    required: ["parameters", "body"],
  };
}

async function worstOf(operation: Operation): Promise<{ cost: Cost; input: Input } | undefined> {
  const schema = inputSchema(operation);
  const until = performance.now() + LONGEST_MS;
  const examples = (operation.body?.examples ?? []).map((body) => ({ parameters: {}, body }));
  const drawn = fc.sample(valuesOf(schema), { numRuns: DRAWS, seed: 2027 }) as Input[];
  let worst: { cost: Cost; input: Input } | undefined;
  const dearer = async (input: Input): Promise<boolean> => {
    const cost = await surely(operation, input);
    if (
      cost.status !== 200 ||
      cost.ms / cost.points <= (worst === undefined ? 0 : 1.05 * (worst.cost.ms / worst.cost.points))
    ) {
      return false;
    }
    worst = { cost, input };
    return true;
  };
  // the first requests pay for code that is cold
  for (const input of [...examples, ...drawn].slice(0, 5)) await costOf(operation, input);
  for (const input of [...examples, ...drawn]) if (performance.now() < until) await dearer(input);
  for (let round = 0; round < ROUNDS; round++) {
    let better = false;
    const { input } = worst ?? { input: undefined };
    if (input === undefined) break;
    for (const [path, other] of changes(schema, input)) {
      if (performance.now() > until) break;
      const from = (worst as unknown as { input: Input }).input;
      better = (await dearer(changed(from, path, other) as Input)) || better;
    }
    if (!better) break;
  }
  return worst;
}

const rows: Record<string, Record<string, string>> = {};
let over = 0;
for (const operation of operations) {
  if (ONLY !== undefined && !ONLY.includes(operation.id)) continue;
  if (operation.body?.type === "multipart/form-data") continue;
  const found = await worstOf(operation);
  if (found === undefined) {
    rows[operation.id] = { "no input was answered": "" };
    continue;
  }
  const { ms, points } = found.cost;
  if (ms / points > MOST_MS_A_POINT) over++;
  rows[operation.id] = {
    "processor [ms]": ms.toFixed(1),
    points: String(points),
    "ms a point": (ms / points).toFixed(1),
    input: JSON.stringify(operation.method === "GET" ? found.input.parameters : found.input.body).slice(0, 160),
  };
}
console.table(rows);
console.log(`${over} operations over ${MOST_MS_A_POINT} ms a point`);
