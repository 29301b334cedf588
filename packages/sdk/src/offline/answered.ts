import { FieldstopProblem } from "../problem.js";
import type { OfflineOptions } from "./options.js";
import type { RequestPart } from "./request-part.js";

/** An operation's answer, or a `FieldstopProblem` that says what the service would have said. */
export async function answered<T>(
  path: string,
  requestPart: RequestPart,
  { signal }: OfflineOptions = {},
  calculate: () => T | Promise<T>,
): Promise<T> {
  signal?.throwIfAborted();
  let answer: T;
  try {
    answer = await calculate();
  } catch (error) {
    throw await told(error, path, requestPart);
  }
  signal?.throwIfAborted();
  return answer;
}

/** What was thrown, as a problem if it is one. Where that part cannot be loaded the error speaks for itself: it names the field, and what is allowed. */
async function told(error: unknown, path: string, requestPart: RequestPart): Promise<unknown> {
  const words = await import("./problem-of.js").catch(() => undefined);
  const problem = words?.problemOf(error, path, requestPart);
  return problem === undefined ? error : new FieldstopProblem(problem);
}
