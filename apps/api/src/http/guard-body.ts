import type { MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { ProblemError } from "../problems/problem";

const MOST_BYTES = 256 * 1024;

function refuse(): never {
  throw new ProblemError("body-too-large", { detail: `The body is over ${MOST_BYTES} bytes.` });
}

/** Where the length is not announced the body is counted as it comes. */
const countBytes = bodyLimit({ maxSize: MOST_BYTES, onError: refuse });

/** Judges a body by its announced type and length before anything reads it. */
export const guardBody: MiddlewareHandler = async (c, next) => {
  if (c.req.method !== "POST") return next();
  const type = c.req.header("Content-Type") ?? "";
  if (!/^application\/json\s*(;|$)/i.test(type)) {
    throw new ProblemError("unsupported-media-type", {
      detail: type === "" ? "The request has no Content-Type." : "The body's Content-Type is not application/json.",
      headers: { "Accept-Post": "application/json" },
    });
  }
  const length = c.req.header("Content-Length");
  if (length === undefined) return countBytes(c, next);
  if (Number(length) > MOST_BYTES) refuse();
  return next();
};
