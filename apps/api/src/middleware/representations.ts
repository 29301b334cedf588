import { parseAccept } from "hono/utils/accept";
import type { AskedFor } from "../operations/operation-context";

export const JSON_TYPE = "application/json";
export const SVG_TYPE = "image/svg+xml";
export const NDJSON_TYPE = "application/x-ndjson";

export const ICS_TYPE = "text/calendar";
export const MARKDOWN_TYPE = "text/markdown";
export const TEXT_TYPE = "text/plain";

/** What a path that ends in a suffix answers as. */
const SUFFIXES: Readonly<Record<string, string>> = {
  svg: SVG_TYPE,
  ics: ICS_TYPE,
  md: MARKDOWN_TYPE,
  txt: TEXT_TYPE,
};

/** Plain paths that answer as more than JSON where `Accept` prefers it, their own choice first; each form has a twin of the path that ends in its suffix. */
const FORMS: Readonly<Record<string, readonly string[]>> = {
  "GET /v1/forecast": [JSON_TYPE, SVG_TYPE, ICS_TYPE, MARKDOWN_TYPE, TEXT_TYPE],
  "GET /v1/light-windows": [JSON_TYPE, SVG_TYPE, ICS_TYPE],
  "GET /v1/horizon": [JSON_TYPE, SVG_TYPE],
  "POST /v1/light-levels": [JSON_TYPE, SVG_TYPE],
  "POST /v1/skyline": [JSON_TYPE, SVG_TYPE],
  "POST /v1/forecasts": [NDJSON_TYPE],
};

/** What a path can answer as, its own choice first. */
export function offeredTypes(method: string, path: string): readonly string[] {
  const suffix = path.includes(".") ? /^\/v1\/.*\.(\w+)$/.exec(path)?.[1] : undefined;
  const bySuffix = suffix !== undefined && Object.hasOwn(SUFFIXES, suffix) ? SUFFIXES[suffix] : undefined;
  if (bySuffix !== undefined) return [bySuffix];
  const asked = `${method === "HEAD" ? "GET" : method} ${path}`;
  return (Object.hasOwn(FORMS, asked) ? FORMS[asked] : undefined) ?? [JSON_TYPE];
}

/**
 * Of what the path offers, what the caller likes best (RFC 9110, 12.5.1: the most specific range counts, and weighs by its q); the path's own choice
 * where the caller has none, undefined where nothing offered is taken.
 */
export function chosenTypeOf(method: string, path: string, accept: string | null): string | undefined {
  const offered = offeredTypes(method, path);
  if (accept === null || accept === "*/*") return offered[0];
  const accepted = parseAccept(accept);
  const weightOf = (type: string): number => {
    for (const range of [type, `${type.split("/")[0]}/*`, "*/*"]) {
      const found = accepted.find((entry) => entry.type.toLowerCase() === range);
      if (found !== undefined) return found.q;
    }
    return 0;
  };
  const best = Math.max(...offered.map(weightOf));
  return best > 0 ? offered.find((type) => weightOf(type) === best) : undefined;
}

/** The same of a request that has come as far as its handler. */
export function chosenType({ req }: { readonly req: AskedFor }): string | undefined {
  return chosenTypeOf(req.method, req.path, req.header("Accept") ?? null);
}
