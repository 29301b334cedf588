import { echo } from "@fieldstop/operations";
import { ProblemError } from "../problems/problem";

/** Empty pairs, as between two `&` or after the last, are none at all (WHATWG URL, application/x-www-form-urlencoded parsing). */
const NAMELESS = /(?:^|&)=([^&]*)/;

/**
 * Parse a query. A parameter that comes more than once is a list of its values.
 * @throws ProblemError for a value that has no name: whoever sent it meant something by it
 */
export function parseQuery(query: string): Readonly<Record<string, string | string[]>> {
  if (query === "") return {};
  const nameless = NAMELESS.exec(query);
  if (nameless !== null) {
    const pointer = "query:";
    const detail = "a parameter without a name";
    const allowed = "only the documented parameters, as name=value";
    const errors = [{ pointer, detail, received: echo(nameless[1]), allowed }];
    throw new ProblemError("invalid-input", { detail: `${pointer} ${detail}`, errors });
  }
  const values = new Map<string, string | string[]>();
  for (const [name, value] of new URLSearchParams(query)) {
    const before = values.get(name);
    values.set(name, before === undefined ? value : [before, value].flat());
  }
  return Object.fromEntries(values);
}
