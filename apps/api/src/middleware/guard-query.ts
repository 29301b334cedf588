import { echo } from "@fieldstop/answers";
import { ProblemError } from "../problems/problem";

/** Empty pairs, as between two `&` or after the last, are none at all (WHATWG URL, application/x-www-form-urlencoded parsing). */
const NAMELESS = /(?:^|&)=([^&]*)/;

/**
 * Refuses a value that has no name, which the router leaves out before any schema sees it: whoever sent it meant something by it.
 * @throws ProblemError
 */
export function judgeQuery(query: string): void {
  const nameless = NAMELESS.exec(query);
  if (nameless === null) return;
  const pointer = "query:";
  const detail = "a parameter without a name";
  const errors = [
    { pointer, detail, received: echo(nameless[1]), allowed: "only the documented parameters, as name=value" },
  ];
  throw new ProblemError("invalid-input", { detail: `${pointer} ${detail}`, errors });
}
