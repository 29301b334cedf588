import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { stationDatabase } from "@fieldstop/api/tides/station-database";
import { createTerrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { get, post, type TestApp, testApp } from "./harness";

// The reference's examples are requests that someone will copy: each must get its answer.

interface Parameter {
  readonly name: string;
  readonly in: string;
  readonly required?: boolean;
  readonly schema: { readonly example?: string | number; readonly examples?: readonly (string | number)[] };
  readonly example?: string | number;
}
interface Described {
  readonly operationId: string;
  readonly summary?: string;
  readonly description?: string;
  readonly tags?: readonly string[];
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: {
    readonly content: Record<
      string,
      { readonly examples?: Record<string, { readonly summary: string; value: unknown }> }
    >;
  };
  readonly responses: Record<string, unknown>;
}
const contract = JSON.parse(readFileSync(new URL("../../openapi/openapi.json", import.meta.url), "utf8")) as {
  readonly paths: Record<string, Record<string, Described>>;
  readonly components: { readonly schemas: Record<string, unknown> };
};
const operations = Object.entries(contract.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, described]) => ({ path, method, id: described.operationId, described })),
);
const bodies = operations.filter(({ described }) => described.requestBody !== undefined);
const queries = operations.filter(({ method }) => method === "get");

const exampleOf = ({ example, schema }: Parameter) => example ?? schema.example ?? schema.examples?.[0];
const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));

/** Parameters of which some stand for others: those that the example gives, and those that then go unused. */
const CHOICES: Readonly<Record<string, { readonly given: readonly string[]; readonly unused: readonly string[] }>> = {
  "/v1/tides": { given: ["station"], unused: ["latitude", "longitude", "from", "to"] },
};

let app: TestApp;
beforeAll(async () => {
  const stations = stationDatabase();
  app = testApp({ terrain: await createTerrain({ sources: [demo] }), tides: stations });
});

describe("every operation is described", () => {
  it.each(operations)("$id", ({ described }) => {
    expect(described.summary?.length).toBeGreaterThan(5);
    expect(described.description?.length).toBeGreaterThan(20);
    expect(described.tags).toHaveLength(1);
    expect(Object.keys(described.responses)).toEqual(expect.arrayContaining(["200", "400", "422", "500", "503"]));
  });

  it("and every shape has a name, so that the client has a type for it", () => {
    const nameless: string[] = [];
    const walk = (value: unknown, path: string, named: boolean): void => {
      if (value === null || typeof value !== "object") return;
      const schema = value as Record<string, unknown>;
      if (schema["type"] === "object" && schema["properties"] !== undefined && !named) nameless.push(path);
      for (const [key, inner] of Object.entries(schema)) walk(inner, `${path}/${key}`, false);
    };
    for (const [name, schema] of Object.entries(contract.components.schemas)) walk(schema, name, true);
    walk(contract.paths, "paths", false);
    expect(nameless).toEqual([]);
  });
});

describe("examples of bodies", () => {
  const cases = bodies.flatMap(({ id, path, described }) =>
    Object.entries(described.requestBody?.content["application/json"]?.examples ?? {}).map(([name, { value }]) => ({
      id,
      path,
      name,
      value,
    })),
  );

  it("stand at every operation that takes JSON", () => {
    const without = bodies.filter(
      ({ id, described }) =>
        described.requestBody?.content["application/json"] !== undefined && !cases.some((each) => each.id === id),
    );
    expect(without.map(({ id }) => id)).toEqual([]);
  });

  it.each(cases)("$id: $name", async ({ path, value }) => {
    const response = await post(app, path, value);
    expect(response.status, await response.text()).toBe(200);
  });
});

describe("examples of queries", () => {
  it.each(queries)("$id", async ({ path, described }) => {
    const parameters = described.parameters ?? [];
    const required = parameters.filter((parameter) => parameter.required);
    expect(required.filter((parameter) => exampleOf(parameter) === undefined).map(({ name }) => name)).toEqual([]);
    const inPath = required.filter((parameter) => parameter.in === "path");
    const at = inPath.reduce(
      (url, parameter) => url.replace(`{${parameter.name}}`, String(exampleOf(parameter))),
      path,
    );
    const exampled = parameters.filter((each) => each.in === "query" && exampleOf(each) !== undefined);
    const choice = CHOICES[path];
    const base = exampled.filter(({ required: needed, name }) => needed || choice?.given.includes(name));
    const optional = exampled.filter((each) => !base.includes(each) && !choice?.unused.includes(each.name));
    for (const more of [[], ...optional.map((parameter) => [parameter])]) {
      const query = Object.fromEntries(
        [...base, ...more].map((each) => [each.name, exampleOf(each) as string | number]),
      );
      const response = await get(app, at, query);
      expect(response.status, `${at} ${JSON.stringify(query)}: ${await response.text()}`).toBe(200);
    }
  });
});
