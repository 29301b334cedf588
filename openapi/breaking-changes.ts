import { apiCompare } from "api-smart-diff";

/** Something that a client of the earlier contract would trip over. */
export interface BreakingChange {
  /** Where in the document, from the path on. */
  readonly at: string;
  readonly change: "add" | "remove" | "replace" | "rename";
}

type Node = Record<string, unknown>;

/**
 * What the later contract takes back of the earlier one: operations, parameters, fields of answers, types, and ranges or choices
 * of requests. What only grows does not count, nor does a further code in an answer: clients are told to take a code that they do
 * not know as "something else". References are resolved first, so that a shape may get a name or lose it.
 */
export function breakingChanges(earlier: unknown, later: unknown): BreakingChange[] {
  const { diffs } = apiCompare(operationsOf(earlier), operationsOf(later));
  return diffs.flatMap(({ action, type, path }) => {
    const inAnswer = path.includes("responses");
    const furtherCode = inAnswer && action === "add" && path.at(-2) === "enum";
    // the library holds any change of an answer's type for harmless
    const answerType = inAnswer && action === "replace" && path.at(-1) === "type";
    if ((type !== "breaking" && !answerType) || furtherCode) return [];
    return [{ at: path.join("/"), change: action as BreakingChange["change"] }];
  });
}

/** The document's operations with every reference put in place. */
function operationsOf(document: unknown): Node {
  const root = document as Node;
  const resolve = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(resolve);
    if (value === null || typeof value !== "object") return value;
    const { $ref, allOf, ...rest } = value as Node;
    const own = Object.fromEntries(Object.entries(rest).map(([key, inner]) => [key, resolve(inner)]));
    const parts = Array.isArray(allOf) ? allOf.map((part) => resolve(part) as Node) : [];
    const target = typeof $ref === "string" ? (resolve(pointedTo(root, $ref)) as Node) : {};
    return Object.assign({}, target, ...parts, own);
  };
  return { openapi: root["openapi"], info: root["info"], paths: resolve(root["paths"]) };
}

function pointedTo(root: Node, reference: string): unknown {
  const keys = reference
    .slice("#/".length)
    .split("/")
    .map((key) => key.replaceAll("~1", "/").replaceAll("~0", "~"));
  return keys.reduce<unknown>((node, key) => (node as Node)[key], root);
}
