import { ProblemError } from "../problems/problem";
import type { Asked } from "./asked";
import { chosenTypeOf, offeredTypes } from "./representations";

/**
 * Refuses a caller who takes nothing that the operation can give.
 * @throws ProblemError
 */
export function judgeAccept({ method, headers }: Asked, path: string): void {
  if (chosenTypeOf(method, path, headers.get("accept")) !== undefined) return;
  const offered = offeredTypes(method, path);
  throw new ProblemError("not-acceptable", { detail: `This operation answers as ${offered.join(" or ")}.` });
}
