import type { DomainError } from "@fieldstop/core";
import { type InputPart, pointerTo } from "./pointer";
import { ProblemError } from "./problem";
import { echo } from "./received";

/** The problem behind an argument that core refused: its dotted `param` is the field of the request. */
export function problemFromDomain(error: DomainError, part: InputPart): ProblemError {
  const allowed = error.unit === undefined ? error.allowed : `${error.allowed} ${error.unit}`;
  return new ProblemError(error.code === "impossible" ? "impossible" : "invalid-input", {
    detail: error.message,
    errors: [
      {
        pointer: pointerTo(part, fieldOf(error.param.split("."), part)),
        detail: error.message,
        received: echo(error.given),
        allowed,
      },
    ],
  });
}

/** A query is flat: its fields are known by the last part of the path, `place.timeZone` by `timeZone`. */
function fieldOf(path: readonly string[], part: InputPart): readonly string[] {
  return part === "query" ? path.slice(-1) : path;
}
