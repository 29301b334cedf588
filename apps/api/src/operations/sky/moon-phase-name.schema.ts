import type { MoonPhaseName as CoreMoonPhaseName } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import type { Assert, SameShape } from "../shared/same-shape";

export const MoonPhaseName = z
  .enum([
    "new-moon",
    "waxing-crescent",
    "first-quarter",
    "waxing-gibbous",
    "full-moon",
    "waning-gibbous",
    "last-quarter",
    "waning-crescent",
  ])
  .openapi("MoonPhaseName");

export type MoonPhaseNameCheck = Assert<SameShape<z.output<typeof MoonPhaseName>, CoreMoonPhaseName>>;
