import type { FocusStack as CoreFocusStack, FocusStackRequest } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { ApertureSetting } from "../exposure/exposure.schema";
import { Assumption } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { cameraOptics, Diffraction, distance, FarLimit, NEAREST_M, sharpnessRules } from "./camera-optics.schema";

export const FocusStackInput = z
  .strictObject({
    ...cameraOptics,
    nearM: bodyNumber({
      over: NEAREST_M,
      max: 1e6,
      description: "The nearest thing that should be sharp [m]",
      example: 0.4,
    }),
    farM: distance("The farthest thing that should be sharp [m], or infinity; default infinity", "infinity").optional(),
    overlap: bodyNumber({
      min: 0,
      max: 0.9,
      description: "Part of each frame's depth that the next one covers again; default 0.2",
    }).optional(),
  })
  .openapi("FocusStackInput", {
    description: "circleOfConfusionMm or print, not both",
    ...saying(sharpnessRules),
  });

export const FocusStack = z
  .object({
    frames: z
      .array(z.object({ focusDistanceM: z.number(), nearM: z.number(), far: FarLimit }).openapi("FocusStackFrame"))
      .openapi({ description: "From the nearest to the farthest, each with what it holds" }),
    count: z.int(),
    overlap: z.number(),
    aperture: ApertureSetting,
    circleOfConfusionMm: z.number().openapi({ description: "The blur that was allowed [mm]" }),
    maxBlurMm: z
      .number()
      .openapi({ description: "The blur that is nowhere exceeded [mm]: what is left over sharpens every frame" }),
    hyperfocalM: z.number(),
    singleFrame: z
      .object({ focusDistanceM: z.number(), apertureNeeded: z.number() })
      .openapi("SingleFrameFocus")
      .openapi({ description: "What a single frame would take instead" }),
    diffraction: Diffraction,
    warnings: z.array(
      z
        .object({ code: z.enum(["diffraction-softens", "one-frame-would-do"]), text: z.string() })
        .openapi("FocusStackWarning"),
    ),
    assumptions: z.array(Assumption),
  })
  .openapi("FocusStack");

export type FocusStackChecks = [
  Assert<SameShape<z.output<typeof FocusStackInput>, FocusStackRequest>>,
  Assert<SameShape<z.output<typeof FocusStack>, CoreFocusStack>>,
];
