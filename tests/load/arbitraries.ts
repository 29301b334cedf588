import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { resolved, type Schema } from "./contract";

// Values as a schema of the contract allows them; schemas leave some room that core then refuses, which is as well.

const ajv = new Ajv2020({ strict: false });

const isoDate = (ms: number): string => new Date(ms).toISOString().slice(0, 10);
const isoInstant = (ms: number): string => new Date(ms).toISOString();

const DAY_MS = 86_400_000;
const FIRST_MS = Date.UTC(1899, 11, 30);
const LAST_MS = Date.UTC(2101, 0, 2);

/** Numbers as people give them: spread evenly, which doubles are not. */
function decimals(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 10_000 }).map((part) => min + (part / 10_000) * (max - min));
}

const dates = fc.oneof(
  { weight: 3, arbitrary: fc.integer({ min: 0, max: 730 }).map((day) => isoDate(Date.UTC(2027, 0, 1) + day * DAY_MS)) },
  {
    weight: 1,
    arbitrary: fc.integer({ min: FIRST_MS / DAY_MS, max: LAST_MS / DAY_MS }).map((d) => isoDate(d * DAY_MS)),
  },
  // the clocks change, leap days, both ends of the range
  fc.constantFrom("2027-03-28", "2027-10-31", "2028-02-29", "1900-02-28", "1900-01-01", "2100-12-31", "2027-06-21"),
);
const instants = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.integer({ min: 0, max: 730 * 1440 }).map((m) => isoInstant(Date.UTC(2027, 0, 1) + m * 60_000)),
  },
  { weight: 1, arbitrary: fc.integer({ min: FIRST_MS, max: LAST_MS }).map(isoInstant) },
  fc.constantFrom("2027-03-20T18:00:00+05:45", "2028-02-29T23:59:59.999-11:00", "2027-06-30T23:59:59Z"),
);
const texts = fc.oneof(
  fc.constantFrom("Ardvane strand", "a", "Årdväne 岸 🌅"),
  fc.string({ unit: "binary", maxLength: 12 }),
);

/** What names alone tell: a schema says only that these are strings, or numbers of the whole range. */
const byName: Readonly<Record<string, fc.Arbitrary<unknown>>> = {
  timeZone: fc.constantFrom("Europe/London", "Asia/Kathmandu", "Pacific/Apia", "America/St_Johns", "UTC", "Mars/Base"),
  latitude: fc.oneof(
    { weight: 3, arbitrary: decimals(56.3, 56.9) },
    { weight: 2, arbitrary: decimals(-90, 90) },
    fc.constantFrom(90, -90, 0, 84.99, -85),
  ),
  longitude: fc.oneof(
    { weight: 3, arbitrary: decimals(-9.8, -9) },
    { weight: 2, arbitrary: decimals(-180, 180) },
    fc.constantFrom(180, -180, 0, 179.9999),
  ),
};

/** Values of a schema; `name` is the field's. */
export function valuesOf(given: Schema, name = ""): fc.Arbitrary<unknown> {
  const schema = resolved(given as Schema & { $ref?: string });
  const hint = byName[name];
  if (hint !== undefined) return hint;
  if ("const" in schema) return fc.constant(schema["const"]);
  if (Array.isArray(schema["enum"])) return fc.constantFrom(...(schema["enum"] as unknown[]));
  if (schema["properties"] !== undefined && RULES.some((rule) => rule in schema)) return lawful(schema);
  const branches = (schema["oneOf"] ?? schema["anyOf"]) as Schema[] | undefined;
  if (branches !== undefined) return fc.oneof(...branches.map((branch) => valuesOf(branch, name)));
  const all = schema["allOf"] as Schema[] | undefined;
  if (all !== undefined) return all.length === 1 ? valuesOf(all[0] as Schema, name) : valuesOf(merged(all), name);
  const type = schema["type"];
  if (Array.isArray(type)) return fc.oneof(...type.map((one) => valuesOf({ ...schema, type: one }, name)));
  switch (type) {
    case "object":
      return objectsOf(schema);
    case "array":
      return arraysOf(schema);
    case "string":
      return stringsOf(schema);
    case "integer":
      return numbersOf(schema, true);
    case "number":
      return numbersOf(schema, false);
    case "boolean":
      return fc.boolean();
    case "null":
      return fc.constant(null);
    default:
      return fc.jsonValue({ maxDepth: 2 });
  }
}

/** The same schema without the rules between fields, every reference put in place. */
export function withoutRules(given: unknown): unknown {
  if (Array.isArray(given)) return given.map(withoutRules);
  if (given === null || typeof given !== "object") return given;
  const entries = Object.entries(resolved(given as Schema & { $ref?: string }));
  return Object.fromEntries(
    entries.flatMap(([key, value]) => (RULES.some((rule) => rule === key) ? [] : [[key, withoutRules(value)]])),
  );
}

/** What a schema says of its fields together. */
const RULES = ["not", "dependentRequired"] as const;

/** Objects that keep the rules between their fields. */
function lawful(schema: Schema): fc.Arbitrary<unknown> {
  const rules = Object.fromEntries(RULES.flatMap((rule) => (rule in schema ? [[rule, schema[rule]]] : [])));
  const keeps = ajv.compile(rules);
  return objectsOf(schema).filter((value) => keeps(value));
}

function merged(schemas: readonly Schema[]): Schema {
  const plain = schemas.map((schema) => resolved(schema as Schema & { $ref?: string }));
  return {
    ...Object.assign({}, ...plain),
    ...(plain.some((schema) => "properties" in schema) && {
      properties: Object.assign({}, ...plain.map((schema) => schema["properties"])),
      required: plain.flatMap((schema) => (schema["required"] as string[] | undefined) ?? []),
    }),
  };
}

function objectsOf(schema: Schema): fc.Arbitrary<unknown> {
  const properties = (schema["properties"] ?? {}) as Record<string, Schema>;
  const required = new Set((schema["required"] ?? []) as string[]);
  const fields = Object.entries(properties).map(([key, inner]) => {
    const values = valuesOf(inner, key);
    // an optional field is mostly absent: many at once are mostly refused
    return fc
      .tuple(required.has(key) ? fc.constant(true) : fc.integer({ min: 0, max: 9 }).map((n) => n < 3), values)
      .map(([there, value]) => (there ? [[key, value] as const] : []));
  });
  return fc.tuple(...fields).map((entries) => Object.fromEntries(entries.flat()));
}

function arraysOf(schema: Schema): fc.Arbitrary<unknown> {
  const prefix = schema["prefixItems"] as Schema[] | undefined;
  if (prefix !== undefined) return fc.tuple(...prefix.map((item) => valuesOf(item)));
  const minLength = Number(schema["minItems"] ?? 0);
  const maxLength = Math.min(Number(schema["maxItems"] ?? Number.POSITIVE_INFINITY), minLength + 5);
  return fc.array(valuesOf((schema["items"] ?? {}) as Schema), { minLength, maxLength });
}

function stringsOf(schema: Schema): fc.Arbitrary<unknown> {
  if (schema["format"] === "date") return dates;
  if (schema["format"] === "date-time") return instants;
  if (typeof schema["pattern"] === "string") return fc.stringMatching(new RegExp(schema["pattern"], "u"));
  const minLength = Number(schema["minLength"] ?? 0);
  const maxLength = Number(schema["maxLength"] ?? 200);
  return texts.map((text) => text.slice(0, maxLength).padEnd(minLength, "x"));
}

function numbersOf(schema: Schema, whole: boolean): fc.Arbitrary<unknown> {
  const over = schema["exclusiveMinimum"];
  // a little more than what is left out
  const min = Number(schema["minimum"] ?? (over === undefined ? -1e6 : Number(over) + 1e-6));
  const max = Number(schema["maximum"] ?? schema["exclusiveMaximum"] ?? Math.max(1e6, min));
  if (whole) return fc.integer({ min: Math.ceil(min), max: Math.floor(max) });
  const ends = [min, max, 1, 8, 100].filter((end) => end >= min && end <= max);
  // small numbers are the usual ones: uniform over -1e6 to 1e6 would nearly never meet them
  const near = decimals(Math.max(min, -20), Math.max(min, Math.min(max, 100)));
  return fc.oneof({ weight: 6, arbitrary: near }, fc.double({ min, max, noNaN: true }), fc.constantFrom(...ends));
}
