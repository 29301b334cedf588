import type { DomainError } from "@fieldstop/core";
import { type InputPart, pointerTo } from "./pointer";
import { echo } from "./received";
import { Refusal } from "./refusal";

/** The refusal behind an argument that core refused: its dotted `param` is the field of the request. */
export function refusalFromDomain(error: DomainError, part: InputPart): Refusal {
  const allowed = error.unit === undefined ? error.allowed : `${error.allowed} ${error.unit}`;
  const detail = part === "query" && lostItsPlus(error.given) ? `${error.message}. ${PLUS_IN_A_QUERY}` : error.message;
  return new Refusal(error.code === "impossible" ? "impossible" : "invalid-input", detail, [
    {
      pointer: pointerTo(part, fieldOf(error.param.split("."), part)),
      detail,
      received: echo(error.given),
      allowed,
    },
  ]);
}

// WHATWG URL, application/x-www-form-urlencoded parsing: a plus sign stands for a space
const PLUS_IN_A_QUERY = "In a query a plus sign means a space: write it %2B.";

function lostItsPlus(given: unknown): boolean {
  return typeof given === "string" && /T[\d:.]+ \d{2}:\d{2}$/i.test(given);
}

/** A query is flat: its fields are known by the last part of the path, `place.timeZone` by `timeZone`. */
function fieldOf(path: readonly string[], part: InputPart): readonly string[] {
  return part === "query" ? path.slice(-1) : path;
}
