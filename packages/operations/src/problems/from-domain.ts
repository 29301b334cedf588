import type { DomainError } from "@fieldstop/core/domain-error";
import { type InputPart, pointerTo } from "./pointer";
import { echo } from "./received";
import { Refusal } from "./refusal";

/** The refusal behind an argument that core refused: its dotted `param` is the field of the request. */
export function refusalFromDomain(error: DomainError, part: InputPart): Refusal {
  const allowed = error.unit === undefined ? error.allowed : `${error.allowed} ${error.unit}`;
  return new Refusal(error.code === "impossible" ? "impossible" : "invalid-input", error.message, [
    {
      pointer: pointerTo(part, fieldOf(error.param.split("."), part)),
      detail: error.message,
      received: echo(error.given),
      allowed,
    },
  ]);
}

/** A query is flat: its fields are known by the last part of the path, `place.timeZone` by `timeZone`. */
function fieldOf(path: readonly string[], part: InputPart): readonly string[] {
  return part === "query" ? path.slice(-1) : path;
}
