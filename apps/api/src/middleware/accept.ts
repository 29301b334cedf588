import { parseAccept } from "hono/utils/accept";
import { ProblemError } from "../problems/problem";
import type { RequestContext } from "./request-context";

export const JSON_TYPE = "application/json";
export const SVG_TYPE = "image/svg+xml";
export const NDJSON_TYPE = "application/x-ndjson";
export const ICS_TYPE = "text/calendar";
export const MARKDOWN_TYPE = "text/markdown";
export const TEXT_TYPE = "text/plain";

/**
 * Choose of what an operation offers what the caller likes best (RFC 9110, 12.5.1: the most specific range counts, and weighs by its q); the operation's
 * own choice where the caller has none.
 * @returns undefined where the caller takes nothing that is offered
 */
export function chosenType(offered: readonly string[], accept: string | null): string | undefined {
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

/**
 * The media type to answer a request with.
 * @throws ProblemError where the caller takes nothing that the operation offers
 */
export function negotiate({ request, matched: { types } }: RequestContext): string {
  const chosen = chosenType(types, request.headers.get("accept"));
  if (chosen !== undefined) return chosen;
  throw new ProblemError("not-acceptable", { detail: `This operation answers as ${types.join(" or ")}.` });
}
