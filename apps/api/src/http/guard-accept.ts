import type { MiddlewareHandler } from "hono";
import { accepts } from "hono/accepts";
import { ProblemError } from "../problems/problem";

/** Refuses a caller who takes nothing that a JSON operation can give. */
export const guardAccept: MiddlewareHandler = async (c, next) => {
  const header = c.req.header("Accept");
  if (header !== undefined && header !== "*/*" && header !== "application/json") {
    const chosen = accepts(c, {
      header: "Accept",
      supports: ["application/json"],
      default: "",
      match: (accepted) =>
        accepted.some(
          ({ type, q }) => q > 0 && ["*/*", "application/*", "application/json"].includes(type.toLowerCase()),
        )
          ? "application/json"
          : "",
    });
    if (chosen === "") {
      throw new ProblemError("not-acceptable", { detail: "This operation answers as application/json." });
    }
  }
  return next();
};
