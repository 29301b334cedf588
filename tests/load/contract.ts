import { readFileSync } from "node:fs";
import { Ajv2020, type ValidateFunction } from "ajv/dist/2020.js";
import formats from "ajv-formats";

// The committed contract as what the proofs draw requests from and hold answers to.

export type Schema = Readonly<Record<string, unknown>>;

export interface Parameter {
  readonly name: string;
  readonly in: "query" | "path" | "header";
  readonly required: boolean;
  readonly schema: Schema;
}

export interface Operation {
  readonly id: string;
  readonly method: "GET" | "POST";
  readonly path: string;
  readonly parameters: readonly Parameter[];
  readonly body?: { readonly type: string; readonly schema: Schema; readonly examples: readonly unknown[] };
  /** Media types and their schemas by status. */
  readonly answers: ReadonlyMap<number, ReadonlyMap<string, Schema>>;
}

interface Media {
  readonly schema?: Schema;
  readonly example?: unknown;
  readonly examples?: Readonly<Record<string, { readonly value?: unknown }>>;
}
interface RawOperation {
  readonly operationId: string;
  readonly parameters?: readonly (Partial<Parameter> & { readonly $ref?: string })[];
  readonly requestBody?: { readonly content: Readonly<Record<string, Media>> };
  readonly responses: Readonly<
    Record<string, { readonly $ref?: string; readonly content?: Readonly<Record<string, Media>> }>
  >;
}
interface Contract {
  readonly paths: Readonly<Record<string, Readonly<Record<string, RawOperation>>>>;
  readonly components: Readonly<Record<string, Readonly<Record<string, Schema>>>>;
}

export const contract = JSON.parse(
  readFileSync(new URL("../../openapi/openapi.json", import.meta.url), "utf8"),
) as Contract;

/** What a reference within the document points to. */
export function resolved<T>(value: T & { readonly $ref?: string }): T {
  if (value.$ref === undefined) return value;
  const path = value.$ref.slice(2).split("/");
  const target = path.reduce<unknown>((at, key) => (at as Record<string, unknown>)[decodeURIComponent(key)], contract);
  return resolved(target as T & { readonly $ref?: string });
}

function examplesOf(media: Media): unknown[] {
  const schema = resolved((media.schema ?? {}) as Schema & { $ref?: string }) as { example?: unknown };
  const named = Object.values(media.examples ?? {}).map((example) => resolved(example).value);
  return [...named, media.example, schema.example].filter((example) => example !== undefined);
}

/** Every operation of the contract. */
export const operations: readonly Operation[] = Object.entries(contract.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, raw]): Operation => {
    const [body] = Object.entries(raw.requestBody?.content ?? {});
    return {
      id: raw.operationId,
      method: method.toUpperCase() as "GET" | "POST",
      path,
      parameters: (raw.parameters ?? []).map((given) => {
        const { name = "", in: where = "query", required = false, schema = {} } = resolved(given);
        return { name, in: where, required, schema };
      }),
      ...(body !== undefined && {
        body: { type: body[0], schema: body[1].schema ?? {}, examples: examplesOf(body[1]) },
      }),
      answers: new Map(
        Object.entries(raw.responses).map(([status, answer]) => [
          Number(status),
          new Map(Object.entries(resolved(answer).content ?? {}).map(([type, { schema = {} }]) => [type, schema])),
        ]),
      ),
    };
  }),
);

/** Objects that are described by their properties may have no others: an answer that outgrows its description fails. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (schema === null || typeof schema !== "object") return schema;
  const copy = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
  const plain =
    copy["type"] === "object" && copy["properties"] !== undefined && copy["additionalProperties"] === undefined;
  return plain ? { ...copy, additionalProperties: false } : copy;
}

const ajv = new Ajv2020({ strict: false, validateFormats: true });
formats.default(ajv);
ajv.addSchema({ $id: "contract", components: closed(contract.components) });
const compiled = new Map<Schema, ValidateFunction>();

function validatorOf(schema: Schema): ValidateFunction {
  let validate = compiled.get(schema);
  if (validate === undefined) {
    const text = JSON.stringify(closed(schema)).replaceAll('"$ref":"#/', '"$ref":"contract#/');
    validate = ajv.compile(JSON.parse(text) as Schema);
    compiled.set(schema, validate);
  }
  return validate;
}

const PROBLEM: Schema = { $ref: "#/components/schemas/Problem" };

/** How JSON differs from what a schema of the contract says; undefined where it does not. */
export function differs(schema: Schema, text: string): string | undefined {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return `not JSON: ${text.slice(0, 200)}`;
  }
  const validate = validatorOf(schema);
  return validate(value) ? undefined : `${ajv.errorsText(validate.errors)}: ${text.slice(0, 300)}`;
}

/** How the body of a problem differs from RFC 9457 as the contract has it. */
export function differsFromProblem(status: number, text: string): string | undefined {
  const difference = differs(PROBLEM, text);
  if (difference !== undefined) return difference;
  const told = (JSON.parse(text) as { status: number }).status;
  return told === status ? undefined : `the problem says ${told}, the answer ${status}`;
}

/** How an answer breaks the contract; undefined where it keeps it. */
export function breachOf(operation: Operation, status: number, mediaType: string, text: string): string | undefined {
  const types = operation.answers.get(status);
  if (types === undefined) return `status ${status} is not documented`;
  const type = mediaType.split(";")[0]?.trim() ?? "";
  const schema = types.get(type);
  if (schema === undefined) return `status ${status} as ${type || "no type"} is not documented`;
  if (type === "application/problem+json") return differsFromProblem(status, text);
  if (type === "application/json") return differs(schema, text);
  if (type === "application/x-ndjson") {
    const lines = text.split("\n").filter((line) => line !== "");
    return lines.map((line) => differs(schema, line)).find((difference) => difference !== undefined);
  }
  return text === "" ? "an empty body" : undefined;
}
