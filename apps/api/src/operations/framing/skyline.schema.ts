import type { SkylineInFrame as CoreSkylineInFrame } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import type { Assert, SameShape } from "../shared/same-shape";

const SkylinePoint = z
  .object({
    x: z.number().openapi({ description: "From 0 at the left edge of the frame to 1 at the right" }),
    y: z.number().openapi({ description: "From 0 at the top edge to 1 at the bottom" }),
    azimuthDeg: z.number(),
    altitudeDeg: z.number(),
  })
  .openapi("SkylinePoint");

export const StraightLine = z
  .object({
    yLeft: z.number().openapi({ description: "Height of the line at the left edge: 0 is the top, 1 the bottom" }),
    yRight: z.number(),
    tiltDeg: z.number().openapi({ description: "Clockwise positive" }),
    residualRmsPercent: z
      .number()
      .openapi({ description: "How far the skyline strays from it [% of the frame's height]" }),
    maxResidualPercent: z.number(),
  })
  .openapi("StraightLine");

export const SkylineInFrame = z
  .object({
    points: z.array(SkylinePoint),
    line: z.union([StraightLine, z.null()]).openapi({ description: "Null where the skyline does not cross the frame" }),
    skyPercent: z.number().openapi({ description: "Part of the frame that is sky" }),
  })
  .openapi("SkylineInFrame");

export type SkylineInFrameCheck = Assert<SameShape<z.output<typeof SkylineInFrame>, CoreSkylineInFrame>>;
