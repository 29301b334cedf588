import type { MiddlewareHandler } from "hono";
import { ProblemError } from "../problems/problem";
import { chosenType, offeredTypes } from "./representations";

/** Refuses a caller who takes nothing that the operation can give. */
export const guardAccept: MiddlewareHandler = async (c, next) => {
  const offered = offeredTypes(c.req.method, c.req.path);
  if (chosenType(c) === undefined) {
    throw new ProblemError("not-acceptable", { detail: `This operation answers as ${offered.join(" or ")}.` });
  }
  return next();
};
