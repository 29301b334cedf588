import type { Context } from "hono";
import { accepts } from "hono/accepts";

export const JSON_TYPE = "application/json";
export const SVG_TYPE = "image/svg+xml";
export const NDJSON_TYPE = "application/x-ndjson";

/** Paths that answer as a picture too, where `Accept` prefers one; each has a twin that ends in `.svg`. */
const PICTURED = new Set(["/v1/horizon", "/v1/light-levels", "/v1/skyline"]);

/** What a path can answer as, its own choice first. */
export function offeredTypes(path: string): readonly string[] {
  if (path.endsWith(".svg")) return [SVG_TYPE];
  if (path === "/v1/forecasts") return [NDJSON_TYPE];
  return PICTURED.has(path) ? [JSON_TYPE, SVG_TYPE] : [JSON_TYPE];
}

/**
 * Of what the path offers, what the caller likes best (RFC 9110, 12.5.1: the most specific range counts, and weighs by its q); the path's own choice
 * where the caller has none, undefined where nothing offered is taken.
 */
export function chosenType(c: Context): string | undefined {
  const offered = offeredTypes(c.req.path);
  const header = c.req.header("Accept");
  if (header === undefined || header === "*/*") return offered[0];
  const chosen = accepts(c, {
    header: "Accept",
    supports: [...offered],
    default: "",
    match: (accepted) => {
      const weightOf = (type: string): number => {
        for (const range of [type, `${type.split("/")[0]}/*`, "*/*"]) {
          const found = accepted.find((entry) => entry.type.toLowerCase() === range);
          if (found !== undefined) return found.q;
        }
        return 0;
      };
      const best = Math.max(...offered.map(weightOf));
      return best > 0 ? (offered.find((type) => weightOf(type) === best) as string) : "";
    },
  });
  return chosen === "" ? undefined : chosen;
}
