export type InputPart = "json" | "form" | "query" | "param";

/**
 * The name of a field in an error: an RFC 6901 JSON Pointer for a JSON body, `form:part/inner/field` for a form,
 * `query:name` or `path:name` elsewhere.
 */
export function pointerTo(part: InputPart, path: readonly PropertyKey[]): string {
  if (part === "query") return `query:${path.map(String).join(".")}`;
  if (part === "param") return `path:${path.map(String).join(".")}`;
  if (part === "form") return `form:${path.map(escaped).join("/")}`;
  return path.map((key) => `/${escaped(key)}`).join("");
}

function escaped(key: PropertyKey): string {
  return String(key).replaceAll("~", "~0").replaceAll("/", "~1");
}
