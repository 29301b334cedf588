import fc from "fast-check";

/** Values that code written for good input tends to stumble over. */
export const HOSTILE_VALUES: readonly unknown[] = [
  null,
  true,
  0,
  -0,
  -1,
  1e308,
  -1e308,
  5e-324,
  2 ** 53,
  1e21,
  0.1 + 0.2,
  "",
  " ",
  "NaN",
  "Infinity",
  "-1e999",
  "0x10",
  "1_000",
  "١٢",
  "2027-02-30",
  "2027-13-01",
  "0000-00-00",
  "9999-12-31",
  "2027-03-20T25:61:61Z",
  "+275760-09-13T00:00:00Z",
  "\u0000",
  "\ud800",
  "\u202edlrow",
  "e\u0301".repeat(50),
  "💥",
  "<script>alert(1)</script>",
  "'; DROP TABLE tides; --",
  "../../../../etc/passwd",
  "#{7*7}",
  "{{7*7}}",
  "%00",
  "__proto__",
  "constructor",
  "x".repeat(5000),
  [],
  {},
  [[]],
  [null],
  { constructor: { prototype: { a: 1 } } },
  { toString: 1 },
  { length: 1e9 },
  { toJSON: "x" },
  { valueOf: 1 },
  Array.from({ length: 1000 }, (_, i) => i),
  Array.from({ length: 2000 }, () => null),
  nested(40),
];

export const HOSTILE_KEYS = [
  "__proto__",
  "constructor",
  "prototype",
  "toString",
  "hasOwnProperty",
  "",
  "a/b~c",
  "\u0000",
  "💥",
];

function nested(depth: number): unknown {
  let value: unknown = 1;
  for (let i = 0; i < depth; i++) value = i % 2 === 0 ? [value] : { a: value };
  return value;
}

type Container = Record<string, unknown> | unknown[];
const isContainer = (value: unknown): value is Container => typeof value === "object" && value !== null;

/** Every place in a document: the container and its key. */
function placesOf(value: unknown): (readonly [Container, string])[] {
  if (!isContainer(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => [[value, key] as const, ...placesOf(inner)]);
}

const mutation = fc.record({
  at: fc.nat(10_000),
  how: fc.constantFrom("replace", "replace", "replace", "remove", "add", "repeat"),
  value: fc.oneof({ weight: 3, arbitrary: fc.constantFrom(...HOSTILE_VALUES) }, fc.jsonValue({ maxDepth: 3 })),
  key: fc.constantFrom(...HOSTILE_KEYS),
});

/** A document with one to three things wrong with it. */
export function mutated(documents: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> {
  return fc.tuple(documents, fc.array(mutation, { minLength: 1, maxLength: 3 })).map(([document, mutations]) => {
    const copy: unknown = structuredClone(document);
    for (const { at, how, value: shared, key } of mutations) {
      // it may be mutated in its turn
      const value: unknown = structuredClone(shared);
      const places = placesOf(copy);
      const place = places[at % Math.max(1, places.length)];
      if (place === undefined) return value;
      const [container, name] = place;
      if (how === "remove") delete (container as Record<string, unknown>)[name];
      else if (how === "add") define(container, key, value);
      else if (how === "repeat" && Array.isArray(container)) container.push(...container, ...container);
      else define(container, name, value);
    }
    return copy;
  });
}

/** As JSON.parse does it: a key named __proto__ is a field like any other. */
function define(container: Container, key: string, value: unknown): void {
  Object.defineProperty(container, key, { value, enumerable: true, writable: true, configurable: true });
}
