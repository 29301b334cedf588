import { describe, expect, it } from "vitest";
import { type Operation, operations, resolved, type Schema } from "../load/contract";
import { testApp } from "./harness";

// What a field takes to be judged grows with its length alone: nobody holds the event loop with one.

const LENGTH = 16_000;
const MOST_MS = 5;

/** Texts that patterns with more than one way through them stumble over. */
const TEXTS = [
  `${"1".repeat(LENGTH)}x`,
  `${"1.".repeat(LENGTH / 2)}x`,
  `-${"0".repeat(LENGTH)}e`,
  `${"2027-".repeat(LENGTH / 5)}x`,
  `2027-03-20T18:00:00.${"0".repeat(LENGTH)}`,
  `${"a-".repeat(LENGTH / 2)}!`,
  `${" ".repeat(LENGTH)}x`,
];

const app = testApp();

const MOST_ROUNDS = 20;

/** The processor time [ms] of the first round that is fast enough, else of the fastest: a round may compile something or clear memory away. */
async function leastMs(ask: () => Response | Promise<Response>): Promise<number> {
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < MOST_ROUNDS && least >= MOST_MS; round++) {
    const before = process.cpuUsage();
    const response = await ask();
    await response.text();
    const { user, system } = process.cpuUsage(before);
    least = Math.min(least, (user + system) / 1000);
  }
  return least;
}

interface Field {
  readonly pointer: string;
  /** A document with a value there, and no more round it than tells one branch from another. */
  readonly document: (value: unknown) => unknown;
}

type Wrap = (value: unknown) => unknown;

/** Every field of a body that holds text or a number, in each branch of its schema. */
function fieldsOf(given: Schema, pointer = "", wrap: Wrap = (value) => value): Field[] {
  const schema = resolved(given as Schema & { $ref?: string });
  const properties = schema["properties"] as Record<string, Schema> | undefined;
  const branches = [schema["oneOf"], schema["anyOf"], schema["allOf"]].flatMap((some) => (some ?? []) as Schema[]);
  const inBranches = branches.flatMap((branch) => fieldsOf(branch, pointer, wrap));
  if (properties !== undefined) {
    const constants = Object.entries(properties).flatMap(([key, inner]) => {
      const { enum: choices } = resolved(inner as Schema & { $ref?: string }) as { enum?: unknown[] };
      return choices?.length === 1 ? [[key, choices[0]]] : [];
    });
    const fixed = Object.fromEntries(constants) as Record<string, unknown>;
    const inside = Object.entries(properties).flatMap(([key, inner]) =>
      fieldsOf(inner, `${pointer}/${key}`, (value) => wrap({ ...fixed, [key]: value })),
    );
    return [...inside, ...inBranches];
  }
  if (schema["items"] !== undefined) {
    return [...fieldsOf(schema["items"] as Schema, `${pointer}/0`, (value) => wrap([value])), ...inBranches];
  }
  const types = [schema["type"]].flat();
  const plain = types.some((type) => type === "string" || type === "number" || type === "integer");
  return plain ? [{ pointer, document: wrap }, ...inBranches] : inBranches;
}

const parameters = operations.flatMap((operation) =>
  operation.parameters.map(({ name, in: where }) => ({ id: operation.id, operation, name, where })),
);
const bodies = operations.filter(({ body }) => body?.type === "application/json");

function pathWith({ path, parameters: known }: Operation, name: string, text: string): string {
  const value = encodeURIComponent(text);
  const filled = path.replace(/\{(\w+)\}/g, (_, part: string) => (part === name ? value : "x"));
  const inQuery = known.some((parameter) => parameter.name === name && parameter.in === "query");
  return inQuery ? `${filled}?${name}=${value}` : filled;
}

describe("16 kB of hostile text is judged in less than 5 ms", () => {
  it.each(parameters)("$id: $where $name", async ({ operation, name }) => {
    for (const text of TEXTS) {
      const path = pathWith(operation, name, text);
      expect(await leastMs(() => app.request(path)), text.slice(0, 20)).toBeLessThan(MOST_MS);
    }
  });

  it.each(bodies)("$id: each field of the body", async ({ path, body }) => {
    const fields = fieldsOf(body?.schema ?? {});
    expect(fields.length).toBeGreaterThan(1);
    const headers = { "content-type": "application/json" };
    for (const { pointer, document } of fields) {
      for (const text of TEXTS) {
        const request = { method: "POST", headers, body: JSON.stringify(document(text)) };
        expect(await leastMs(() => app.request(path, request)), `${pointer} ${text.slice(0, 20)}`).toBeLessThan(
          MOST_MS,
        );
      }
    }
  });
});

describe("texts of a request", () => {
  /** Whether a schema bounds the length of the text that it takes. */
  const isBounded = (schema: Schema): boolean =>
    schema["maxLength"] !== undefined || schema["enum"] !== undefined || schema["format"] === "binary";

  it.each(parameters)("$id: $where $name is bounded in length", ({ operation, name }) => {
    const schema = operation.parameters.find((parameter) => parameter.name === name)?.schema ?? {};
    const own = resolved(schema as Schema & { $ref?: string });
    expect(own["type"] !== "string" || isBounded(own), JSON.stringify(own)).toBe(true);
  });
});
