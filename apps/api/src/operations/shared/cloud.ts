import { z } from "@hono/zod-openapi";
import { bodyNumber } from "./numbers";

const level = (description: string) => bodyNumber({ min: 0, max: 100, description, example: 0 });

/** How much of the sky each level of cloud covers. */
export const CloudCover = z
  .strictObject({
    low: level("Low cloud [%]"),
    middle: level("Middle cloud [%]"),
    high: level("High cloud [%]"),
  })
  .openapi("CloudCover", { description: "Each level counted as if the others were not there" });
