export type InputPart = "json" | "query" | "param";

/** The name of a field in an error: an RFC 6901 JSON Pointer for a body, `query:name` or `path:name` elsewhere. */
export function pointerTo(part: InputPart, path: readonly PropertyKey[]): string {
  if (part === "query") return `query:${path.map(String).join(".")}`;
  if (part === "param") return `path:${path.map(String).join(".")}`;
  return path.map((key) => `/${String(key).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}
