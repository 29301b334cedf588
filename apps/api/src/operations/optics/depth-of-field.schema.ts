import type { DepthOfField as CoreDepthOfField, DepthOfFieldRequest } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { ApertureSetting } from "../exposure/exposure.schema";
import { Assumption } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { onlyWith, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { cameraOptics, Diffraction, distance, FarLimit, NEAREST_M, sharpnessRules } from "./camera-optics.schema";

export const DepthOfFieldInput = z
  .strictObject({
    ...cameraOptics,
    focusDistanceM: distance(
      "Where the lens is focused [m], or infinity; default: between what should be sharp, else the hyperfocal distance",
      1.5,
    ).optional(),
    wantedNearM: bodyNumber({
      over: NEAREST_M,
      max: 1e6,
      description: "The nearest thing that should be sharp [m]",
      example: 0.9,
    }).optional(),
    wantedFarM: distance(
      "The farthest thing that should be sharp [m], or infinity; default infinity. Only with wantedNearM",
      "infinity",
    ).optional(),
    maxFNumber: bodyNumber({
      min: 0.5,
      max: 256,
      description: "The smallest opening that the lens has; default 22",
    }).optional(),
  })
  .openapi("DepthOfFieldInput", {
    description: "circleOfConfusionMm or print, not both; wantedFarM only with wantedNearM",
    ...saying(sharpnessRules, onlyWith("wantedFarM", "wantedNearM")),
  });

const DistanceAnswer = z.union([z.number(), z.literal("infinity")]);

export const DepthOfField = z
  .object({
    focusDistanceM: DistanceAnswer,
    aperture: ApertureSetting,
    circleOfConfusionMm: z.number().openapi({ example: 0.0288444102 }),
    hyperfocalM: z.number().openapi({ description: "Focused here, it is sharp from half of it to infinity [m]" }),
    nearM: z.number(),
    far: FarLimit,
    depthM: z.union([z.number(), z.null()]).openapi({ description: "From near to far [m]; null where infinite" }),
    blurAtInfinityMm: z.number().openapi({ description: "Blur of what is far away, on the sensor [mm]" }),
    diffraction: Diffraction,
    forWanted: z
      .object({
        kind: z.enum(["covered", "refocus", "stop-down", "focus-stack"]),
        focusDistanceM: z.number().openapi({ description: "Where both ends are equally sharp [m]" }),
        apertureNeeded: z.number().openapi({ description: "The exact f-number that just holds both ends from there" }),
        aperture: ApertureSetting.openapi({ description: "The first mark that holds them" }),
      })
      .openapi("WantedSharpness")
      .optional()
      .openapi({ description: "What it takes to have sharp what should be" }),
    advice: z.array(
      z
        .object({
          code: z.enum([
            "focus-at-hyperfocal",
            "focus-nearer",
            "infinity-is-soft",
            "diffraction-softens",
            "wanted-is-covered",
            "refocus",
            "stop-down",
            "focus-stack",
          ]),
          text: z.string(),
        })
        .openapi("FocusAdvice"),
    ),
    assumptions: z.array(Assumption),
  })
  .openapi("DepthOfField");

export type DepthOfFieldChecks = [
  Assert<SameShape<z.output<typeof DepthOfFieldInput>, DepthOfFieldRequest>>,
  Assert<SameShape<z.output<typeof DepthOfField>, CoreDepthOfField>>,
];
