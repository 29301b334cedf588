import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { Ajv2020 } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { get, post, testApp } from "./harness";

// Every answer must be what the committed contract says, no field less and none more.

type Schema = Record<string, unknown>;
interface Contract {
  readonly paths: Record<
    string,
    Record<string, { operationId: string; responses: Record<string, { content?: Record<string, unknown> }> }>
  >;
  readonly components: { readonly schemas: Record<string, Schema> };
}
const contract = JSON.parse(readFileSync(new URL("../../openapi/openapi.json", import.meta.url), "utf8")) as Contract;

/** Objects that are described by their properties may have no others: an answer that outgrows its description fails. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (schema === null || typeof schema !== "object") return schema;
  const copy = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)])) as Schema;
  const plain =
    copy["type"] === "object" && copy["properties"] !== undefined && copy["additionalProperties"] === undefined;
  return plain ? { ...copy, additionalProperties: false } : copy;
}

const ajv = new Ajv2020({ strict: false, allErrors: true, validateFormats: true });
formats.default(ajv);
ajv.addSchema({ $id: "contract", components: closed(contract.components) });

const app = testApp({
  weather: {
    at: async (_latitude, _longitude, validForMs) => ({
      provider: "Skerry Weather",
      attribution: "Weather data from Skerry Weather",
      licenceUrl: "https://weather.ardvane.example/licence",
      issuedMs: validForMs - 3_600_000,
      validForMs,
      cloudCover: { low: 10, middle: 30, high: 50 },
      temperatureC: 5,
      relativeHumidity: 96,
      stale: false,
    }),
  },
});
const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const terrainApp = testApp({ terrain: await createTerrain({ sources: [demo] }) });
const place = { latitude: 56.6, longitude: -9.4 };
const instant = "2027-03-20T18:00:00Z";
const camera = { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 };
const optics = { sensor: "full-frame", focalLengthMm: 24, aperture: 11 };
const flat = new Array(256).fill(100);
const frame = (biasStops: number) => ({ biasStops, histogram: { red: flat, green: flat, blue: flat }, coding: "srgb" });
const filters = [{ kind: "nd", stops: 6 }, { kind: "graduated", stops: 3, transition: "soft" }, { kind: "polarizer" }];
const evening = { place, date: "2027-03-20", session: "evening", camera, filters, targetShutterSeconds: 30 };

const queries: readonly (readonly [string, Record<string, string | number>])[] = [
  ["/v1/sun", { ...place, instant }],
  ["/v1/moon", { ...place, instant }],
  ["/v1/light-windows", { ...place, date: "2027-03-20" }],
  ["/v1/forecast", { ...place, date: "2027-03-20", azimuthDeg: 290, cloudHigh: 40, relativeHumidity: 97 }],
  ["/v1/forecast", { ...place, date: "2027-03-20", session: "morning", facingAzimuthDeg: 100 }],
  ["/v1/dew-point", { temperatureC: 8, relativeHumidity: 90 }],
  ["/v1/reference", {}],
];
const bodies: readonly (readonly [string, unknown])[] = [
  ["/v1/light-windows", { place, date: "2027-03-20", subject: { facingAzimuthDeg: 270, slopeDeg: 40 } }],
  ["/v1/light-levels", { place, from: "2027-03-20T17:00:00Z", to: "2027-03-20T18:00:00Z", stepMinutes: 10, camera }],
  [
    "/v1/alignments",
    {
      place,
      body: "moon",
      target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
      from: "2027-01-01",
      to: "2027-06-01",
    },
  ],
  ["/v1/exposures/solve", { ev100: 12, aperture: 8, iso: 100, filters }],
  ["/v1/exposures/equivalents", { ev100: 12, iso: 100 }],
  ["/v1/brackets/plan", { shadowEv100: 3, highlightEv100: 16, camera }],
  ["/v1/brackets/review", { frames: [frame(-2), frame(0), frame(2)] }],
  ["/v1/filters/stack", { filters, baseShutterSeconds: 0.5 }],
  ["/v1/filters/select", { filters, baseShutterSeconds: 0.5, wantedShutterSeconds: 30 }],
  ["/v1/filters/polarizer", { place, instant, camera }],
  ["/v1/filters/graduated", { place, instant, camera }],
  ["/v1/optics/depth-of-field", { ...optics, focusDistanceM: 3 }],
  ["/v1/optics/focus-stack", { ...optics, nearM: 0.5, farM: 20 }],
  ["/v1/optics/angle-of-view", { sensor: "full-frame", focalLengthMm: 24 }],
  ["/v1/optics/panorama", { sensor: "full-frame", focalLengthMm: 24, horizontalDeg: 180, verticalDeg: 60 }],
  ["/v1/skyline", { place, camera, instant }],
  [
    "/v1/outings/plan",
    { ...evening, sky: { cloudCover: { low: 5, middle: 30, high: 40 }, temperatureC: 6, relativeHumidity: 90 } },
  ],
  ["/v1/outings/compare", { places: [{ place }], dates: ["2027-03-20"], session: "evening", camera }],
];

function breaches(method: "get" | "post", path: string, body: unknown): unknown {
  const schema = `contract#/paths`;
  const operation = contract.paths[path]?.[method];
  const content = operation?.responses["200"]?.content?.["application/json"] as
    | { schema: { $ref: string } }
    | undefined;
  if (content === undefined) throw new Error(`${schema}: no ${method} ${path}`);
  const validate = ajv.compile({ $ref: `contract${content.schema.$ref}` });
  return validate(body) ? null : validate.errors;
}

const instantOfSpan = { from: "2027-03-20T17:00:00Z", to: "2027-03-20T18:00:00Z", stepMinutes: 10 };
/** What an answer may be asked for as, by `Accept`. */
const forms: readonly (readonly ["get" | "post", string, Record<string, unknown>])[] = [
  ["get", "/v1/forecast", { ...place, date: "2027-03-20" }],
  ["get", "/v1/light-windows", { ...place, date: "2027-03-20" }],
  ["get", "/v1/horizon", place],
  ["post", "/v1/light-levels", { place, ...instantOfSpan }],
  ["post", "/v1/skyline", { place, camera, instant }],
];

describe("what an answer may be asked for as", () => {
  const typesOf = (method: string, path: string): string[] =>
    Object.keys(contract.paths[path]?.[method]?.responses["200"]?.content ?? {});
  const twins = Object.entries(contract.paths).flatMap(([path, methods]) => {
    const plain = /^(.+)\.\w+$/.exec(path)?.[1];
    return plain === undefined
      ? []
      : Object.keys(methods).flatMap((method) => typesOf(method, path).map((type) => [method, plain, type] as const));
  });

  it.each(twins.filter(([method, path]) => contract.paths[path]?.[method] !== undefined))(
    "%s %s declares %s, which its twin with a suffix answers",
    (method, path, type) => {
      expect(typesOf(method, path)).toContain(type);
    },
  );

  it.each(forms)("%s %s answers as each type that it declares, JSON first", async (method, path, asked) => {
    const types = typesOf(method, path);
    expect(types[0]).toBe("application/json");
    expect(types.length).toBeGreaterThan(1);
    const search = new URLSearchParams(Object.entries(asked).map(([key, value]) => [key, String(value)]));
    for (const accept of types) {
      const response = await (method === "get"
        ? terrainApp.request(`${path}?${search}`, { headers: { accept } })
        : terrainApp.request(path, {
            method: "POST",
            headers: { accept, "content-type": "application/json" },
            body: JSON.stringify(asked),
          }));
      await response.text();
      expect(response.status, accept).toBe(200);
      expect(response.headers.get("Content-Type")?.split(";")[0]).toBe(accept);
    }
  });
});

describe("answers are what the contract says", () => {
  it.each(queries)("GET %s", async (path, query) => {
    const response = await get(app, path, query);
    const text = await response.text();
    expect(response.status, text).toBe(200);
    expect(breaches("get", path, JSON.parse(text))).toBeNull();
  });

  it.each(bodies)("POST %s", async (path, body) => {
    const response = await post(app, path, body);
    const text = await response.text();
    expect(response.status, text).toBe(200);
    expect(breaches("post", path, JSON.parse(text))).toBeNull();
  });

  it("the lines of a stream, too", async () => {
    const places = [{ id: "strand", place, date: "2027-03-20", filters }, { place: { ...place, latitude: 91 } }, 7];
    const lines = (await (await post(app, "/v1/forecasts", { places })).text()).trimEnd().split("\n");
    expect(lines).toHaveLength(places.length + 1);
    const validate = ajv.compile({ $ref: "contract#/components/schemas/ForecastsLine" });
    for (const line of lines) expect(validate(JSON.parse(line)), JSON.stringify(validate.errors)).toBe(true);
  });

  it("a problem, too", async () => {
    const response = await get(app, "/v1/sun", { latitude: 91, longitude: 0 });
    const validate = ajv.compile({ $ref: "contract#/components/schemas/Problem" });
    expect(validate(await response.json()), JSON.stringify(validate.errors)).toBe(true);
  });
});
