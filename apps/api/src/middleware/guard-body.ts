import type { MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { MOST_FORECASTS_BYTES } from "../operations/forecast/forecast.schema";
import { MOST_FORM_BYTES } from "../photos/review-photos";
import { ProblemError } from "../problems/problem";
import type { Asked } from "./asked";

interface Taken {
  readonly type: string;
  readonly pattern: RegExp;
  readonly mostBytes: number;
  /** Where the length is not announced the body is counted as it comes, here or by whoever reads it. */
  readonly countBytes?: MiddlewareHandler;
}

const jsonUpTo = (mostBytes: number): Taken => ({
  type: "application/json",
  pattern: /^application\/json\s*(;|$)/i,
  mostBytes,
  countBytes: bodyLimit({ maxSize: mostBytes, onError: () => refuse(mostBytes) }),
});
const JSON_BODY = jsonUpTo(256 * 1024);
const PHOTOS_BODY: Taken = {
  type: "multipart/form-data",
  pattern: /^multipart\/form-data\s*(;|$)/i,
  mostBytes: MOST_FORM_BYTES,
};

/** Paths that take a form or more than others; all others take JSON. */
const OWN: Readonly<Record<string, Taken>> = {
  "/v1/brackets/review-photos": PHOTOS_BODY,
  "/v1/forecasts": jsonUpTo(MOST_FORECASTS_BYTES),
};

/** Parameters as they are written (RFC 9110, 5.6.6); what is anything else cannot be read. */
const JSON_WITH_PARAMETERS = /^application\/json(;\s*[a-z\d-]+=[^;]+)*$/i;

/** RFC 8259, section 8.1: JSON is UTF-8; a charset that says otherwise cannot be meant. */
const OTHER_CHARSET = /;\s*charset\s*=\s*(?!"?utf-?8"?\s*(?:;|$))/i;

function refuse(mostBytes: number): never {
  throw new ProblemError("body-too-large", { detail: `The body is over ${mostBytes} bytes.` });
}

/**
 * Judges a body by its announced type, coding and length before anything reads it.
 * @throws ProblemError
 */
export function judgeBody({ headers }: Asked, path: string): void {
  const body = takenAt(path);
  const type = headers.get("content-type") ?? "";
  if (type !== body.type) judgeType(body, type);
  const coding = headers.get("content-encoding");
  if (coding !== null && !/^(identity)?$/i.test(coding)) {
    throw new ProblemError("unsupported-media-type", {
      detail: "The body has a Content-Encoding; send it as it is.",
      headers: { "Accept-Encoding": "identity" },
    });
  }
  const length = headers.get("content-length");
  if (length !== null && Number(length) > body.mostBytes) refuse(body.mostBytes);
}

/** A type that is written in another way than by its name alone. */
function judgeType(body: Taken, type: string): void {
  if (!body.pattern.test(type)) {
    throw new ProblemError("unsupported-media-type", {
      detail: type === "" ? "The request has no Content-Type." : `The body's Content-Type is not ${body.type}.`,
      headers: { "Accept-Post": body.type },
    });
  }
  if (body.type !== "application/json") return;
  if (OTHER_CHARSET.test(type)) {
    throw new ProblemError("unsupported-media-type", {
      detail: "The body's Content-Type names another charset than UTF-8, in which JSON is always written.",
      headers: { "Accept-Post": body.type },
    });
  }
  if (!JSON_WITH_PARAMETERS.test(type)) {
    throw new ProblemError("unsupported-media-type", { detail: "The body's Content-Type is not understood." });
  }
}

/** Counts a body whose length was not announced as it comes, where nobody else does. */
export const countBody: MiddlewareHandler = (c, next) => {
  const { countBytes } = takenAt(c.req.path);
  return countBytes === undefined || c.req.header("Content-Length") !== undefined ? next() : countBytes(c, next);
};

function takenAt(path: string): Taken {
  return (Object.hasOwn(OWN, path) ? OWN[path] : undefined) ?? JSON_BODY;
}
