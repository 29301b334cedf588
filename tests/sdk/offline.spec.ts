import { readFileSync } from "node:fs";
import * as offline from "@fieldstop/sdk/offline";
import { afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { get, NOW, type ProblemBody, post, type TestApp, testApp } from "../api/harness";

// What a page answers by itself must be what the service would have answered, digit for digit.

interface Parameter {
  readonly name: string;
  readonly in: "query" | "path";
  readonly required?: boolean;
  readonly schema: { readonly example?: string | number; readonly examples?: readonly (string | number)[] };
  readonly example?: string | number;
}
interface Described {
  readonly operationId: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: {
    readonly content: Record<string, { readonly examples?: Record<string, { readonly value: unknown }> }>;
  };
}
const contract = JSON.parse(readFileSync(new URL("../../openapi/openapi.json", import.meta.url), "utf8")) as {
  readonly paths: Record<string, Record<string, Described>>;
};
const operations = Object.entries(contract.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, described]) => ({ path, method, id: described.operationId, described })),
);

/** What only the service can answer, by what it would need offline. */
const SERVICE_ONLY: readonly string[] = [
  "getHorizon",
  "drawHorizon",
  "drawSkyline",
  "drawLightLevels",
  "listTideStations",
  "predictTides",
  "reviewBracketPhotos",
  "drawLightWindows",
  "listLightCalendar",
  "getForecast",
  "drawForecast",
  "listForecastCalendar",
  "writeForecastMarkdown",
  "writeForecastText",
  "streamForecasts",
];

// biome-ignore lint/suspicious/noExplicitAny: every operation by its name
const answer = offline as unknown as Record<string, (...args: any[]) => Promise<unknown>>;
const options = { nowMs: Date.parse(NOW) };

let app: TestApp;
beforeAll(() => {
  app = testApp();
});

const exampleOf = ({ example, schema }: Parameter) => example ?? schema.example ?? schema.examples?.[0];
const pure = operations.filter(({ id }) => !SERVICE_ONLY.includes(id));
const bodies = pure.flatMap(({ id, path, described }) =>
  Object.entries(described.requestBody?.content["application/json"]?.examples ?? {}).map(([name, { value }]) => ({
    id,
    path,
    name,
    value,
  })),
);
const queries = pure.filter(({ method, path }) => method === "get" && !path.startsWith("/v1/reference"));

/** A copy with the members of each object in another order, as another client would send them. */
function reordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reordered);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, inner]) => [key, reordered(inner)]),
  );
}

describe("answers as the service does, byte for byte", () => {
  it("each operation that needs nothing but the request", () => {
    expect(pure.length).toBeGreaterThanOrEqual(26);
    expect(bodies.length).toBeGreaterThanOrEqual(22);
    expect(new Set(bodies.map(({ id }) => id)).size).toBe(pure.filter(({ method }) => method === "post").length);
    expect(queries.map(({ id }) => id).sort()).toEqual([
      "findLightWindows",
      "getDewPoint",
      "getMoonPosition",
      "getSunPosition",
    ]);
  });

  it.each(bodies)("$id: $name", async ({ id, path, value }) => {
    const response = await post(app, path, value);
    const text = await response.text();
    expect(response.status, text).toBe(200);
    expect(JSON.stringify(await answer[id]?.(value, options))).toBe(text);
    expect(JSON.stringify(await answer[id]?.(reordered(value), options))).toBe(text);
  });

  it.each(queries)("$id, with all parameters and with the least", async ({ id, path, described }) => {
    const known = (described.parameters ?? []).filter((parameter) => exampleOf(parameter) !== undefined);
    for (const some of [known, known.filter(({ required }) => required)]) {
      const query = Object.fromEntries(some.map((p) => [p.name, exampleOf(p) as string | number]));
      if (query["horizon"] === undefined && id === "findLightWindows") query["horizon"] = "flat";
      const response = await get(app, path, query);
      const text = await response.text();
      expect(response.status, text).toBe(200);
      expect(JSON.stringify(await answer[id]?.(query, options))).toBe(text);
    }
  });

  it("the tables of the trade, every one", async () => {
    const listed = await (await get(app, "/v1/reference")).text();
    const tables = await offline.listReferenceTables();
    expect(JSON.stringify(tables)).toBe(listed);
    expect(tables.tables.length).toBeGreaterThanOrEqual(7);
    for (const { name } of tables.tables) {
      const text = await (await get(app, `/v1/reference/${name}`)).text();
      expect(JSON.stringify(await offline.getReferenceTable({ table: name }))).toBe(text);
    }
  });
});

/** The problem that both meet, each by its own way. */
async function bothRefuse(id: string, input: object, response: Promise<Response>): Promise<ProblemBody> {
  const told = (await (await response).json()) as ProblemBody;
  const caught: unknown = await answer[id]?.(input, options).then(
    () => "an answer",
    (error: unknown) => error,
  );
  expect(offline.isProblem(caught), String(caught)).toBe(true);
  const { type, title, status, detail, instance, errors } = caught as offline.FieldstopProblem;
  expect({ type, title, status, detail, instance, errors }).toEqual({ ...told, errors: told.errors ?? [] });
  return told;
}

const moving = { speedMPerS: 1, distanceM: 10, focalLengthMm: 50, pixelPitchUm: 5 };

describe("answers what only some requests call for as the service does", () => {
  const scene = { shadowEv100: 3, highlightEv100: 16 };
  const filters = [
    { kind: "nd", factor: 1000 },
    { kind: "polarizer" },
    { kind: "graduated", stops: 2, transition: "soft" },
  ];

  it.each([
    ["solveExposure", "/v1/exposures/solve", { ev100: 12, aperture: 8, iso: 100, filters }],
    ["solveExposure", "/v1/exposures/solve", { ev100: 12, aperture: 8, iso: 100, filters: [] }],
    ["solveExposure", "/v1/exposures/solve", { ev100: 12, aperture: 8, iso: 100, video: { frameRate: 25 } }],
    ["listEquivalents", "/v1/exposures/equivalents", { ev100: 12, iso: 100, filters }],
    ["planBracket", "/v1/brackets/plan", { ...scene, filters }],
    [
      "planBracket",
      "/v1/brackets/plan",
      { ...scene, lightStopsPerMinute: -12, subject: { motion: moving, budgetPx: 1 } },
    ],
    ["planBracket", "/v1/brackets/plan", { ...scene, subject: { pxPerSecond: 40, budgetPx: 1 } }],
  ])("%s %s %o", async (id, path, body) => {
    const text = await (await post(app, path, body)).text();
    expect(JSON.stringify(await answer[id]?.(body, options))).toBe(text);
  });
});

describe("refuses as the service does", () => {
  const place = { latitude: 56.6, longitude: -9.4 };
  const dense = [
    { kind: "nd", stops: 20 },
    { kind: "nd", stops: 20 },
    { kind: "nd", stops: 1 },
  ];

  it.each([
    ["solveExposure", "/v1/exposures/solve", { ev100: 12, aperture: 8 }],
    ["solveExposure", "/v1/exposures/solve", { ev100: 12, aperture: 8, iso: 100, filters: [{ kind: "nd" }] }],
    ["solveExposure", "/v1/exposures/solve", { ev100: 12, aperture: 8, shutterSeconds: 1, video: { frameRate: 25 } }],
    ["planBracket", "/v1/brackets/plan", { shadowEv100: 12, highlightEv100: 8, camera: {} }],
    ["planBracket", "/v1/brackets/plan", { shadowEv100: 0, highlightEv100: 30, counts: [3] }],
    ["planBracket", "/v1/brackets/plan", { shadowEv100: 4, highlightEv100: 15, filters: dense }],
    ["planBracket", "/v1/brackets/plan", { shadowEv100: 4, highlightEv100: 15, subject: { budgetPx: 1 } }],
    [
      "planBracket",
      "/v1/brackets/plan",
      { shadowEv100: 4, highlightEv100: 15, subject: { motion: { ...moving, distanceM: 0.01 }, budgetPx: 1 } },
    ],
    ["listEquivalents", "/v1/exposures/equivalents", { ev100: 12, iso: 100, filters: dense }],
    ["solveLongExposure", "/v1/exposures/long", { aperture: 8, iso: 100, place, filters: dense }],
    ["planOuting", "/v1/outings/plan", { place, date: "1899-12-31", session: "evening", camera: {} }],
    [
      "planOuting",
      "/v1/outings/plan",
      { place: { ...place, timeZone: "Ardvane/Strand" }, session: "evening", camera: {} },
    ],
    ["traceLightLevels", "/v1/light-levels", { place, from: "2027-03-20T18:00:00Z" }],
    ["selectFilters", "/v1/filters/select", { filters: [{ kind: "nd", stops: 3 }], wantedShutterSeconds: 1, place }],
    ["assessPolarizer", "/v1/filters/polarizer", { camera: { azimuthDeg: 0 } }],
  ])("%s %s", async (id, path, body) => {
    const problem = await bothRefuse(id, body, post(app, path, body));
    expect([400, 422]).toContain(problem.status);
    expect(problem.errors?.[0]?.pointer).toMatch(/^\//);
  });

  it("names the parameters of a query as such", async () => {
    const query = { ...place, instant: "yesterday" };
    const problem = await bothRefuse("getSunPosition", query, get(app, "/v1/sun", query));
    expect(problem.errors?.[0]?.pointer).toBe("query:instant");
  });

  it("tables that there are not", async () => {
    const problem = await bothRefuse("getReferenceTable", { table: "recipes" }, get(app, "/v1/reference/recipes"));
    expect(problem.status).toBe(404);
  });
});

describe("says what only the service can answer", () => {
  it.each(SERVICE_ONLY)("%s", async (id) => {
    const asked = answer[id]?.({}) as Promise<unknown> | AsyncGenerator<unknown>;
    await expect("next" in asked ? asked.next() : asked).rejects.toMatchObject({
      name: "FieldstopProblem",
      status: 503,
      type: "/problems/unavailable",
      detail: expect.stringMatching(/^This cannot be answered offline: the service /) as string,
    });
  });

  const place = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };
  const terrain = { kind: "terrain" as const };

  it("terrain, wherever it is asked for by name", async () => {
    const asked: [Promise<unknown>, string][] = [
      [offline.findLightWindows({ ...place, horizon: "terrain" }), "query:horizon"],
      [offline.findLightWindowsFromBody({ place, horizon: terrain }), "/horizon/kind"],
      [offline.projectSkyline({ place, camera: { azimuthDeg: 0 }, horizon: terrain }), "/horizon/kind"],
      [
        offline.compareOutings({
          places: [{ place }, { place, horizon: terrain }],
          dates: ["2027-03-20"],
          session: "evening",
          camera: {},
        }),
        "/places/1/horizon/kind",
      ],
    ];
    for (const [call, pointer] of asked) {
      await expect(call).rejects.toMatchObject({ status: 422, errors: [{ pointer, received: "terrain" }] });
    }
  });

  it("a tide in a plan", async () => {
    const call = offline.planOuting({ place, session: "evening", camera: {}, tideStation: "nearest" });
    await expect(call).rejects.toMatchObject({ status: 422, errors: [{ pointer: "/tideStation" }] });
  });
});

describe("the offline face", () => {
  it("has every operation of the contract, under the same subjects as the one over HTTP", () => {
    const names = Object.values(offline.createOfflineFieldstop()).flatMap((subject) => Object.keys(subject));
    expect(names.sort()).toEqual(operations.map(({ id }) => id).sort());
  });

  it("answers for the present and with the zones that it was made with", async () => {
    const { sky, light, reference } = offline.createOfflineFieldstop({
      ...options,
      timeZoneAt: () => "Asia/Kathmandu",
    });
    const sun = await sky.getSunPosition({ latitude: 56.6, longitude: -9.4 });
    expect(sun.instant).toBe("2027-03-20T22:45:00+05:45");
    expect((await light.findLightWindows({ latitude: 27.7, longitude: 85.3 })).date).toBe("2027-03-20");
    expect((await reference.listReferenceTables()).tables.length).toBeGreaterThan(0);
  });

  it("ends with the caller's signal", async () => {
    const signal = AbortSignal.abort(new Error("left the page"));
    await expect(offline.solveExposure({ ev100: 12, aperture: 8, iso: 100 }, { signal })).rejects.toThrow(
      "left the page",
    );
    const { reference } = offline.createOfflineFieldstop();
    await expect(reference.listReferenceTables({ signal })).rejects.toThrow("left the page");
  });
});

describe("the clock of the device", () => {
  afterEach(() => vi.useRealTimers());

  it("is the present where nothing else is said", async () => {
    vi.useFakeTimers({ now: Date.parse("2030-06-01T12:00:00Z"), toFake: ["Date"] });
    const sun = await offline.getSunPosition({ latitude: 0, longitude: 0, timeZone: "Etc/UTC" });
    expect(sun.instant).toBe("2030-06-01T12:00:00+00:00");
  });
});
