import type { Diffraction as CoreDiffraction, FarLimit as CoreFarLimit, Distance } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { SensorInput } from "../shared/camera";
import { bodyNumber } from "../shared/numbers";
import { notTogether } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";

export const focalLengthNumber = bodyNumber({ min: 1, max: 10_000, description: "Focal length [mm]", example: 24 });

export const orientation = z
  .enum(["landscape", "portrait"])
  .openapi({ description: "How the camera is held: as the sensor is described, or turned by a quarter" });

/** Sensor, lens and aperture, and what still counts as sharp. */
export const cameraOptics = {
  sensor: SensorInput,
  focalLengthMm: focalLengthNumber,
  aperture: bodyNumber({
    min: 0.5,
    max: 256,
    description: "f-number. A mark of the series is read as what it stands for: 11 is f/11, which is 11.31",
    example: 11,
  }),
  circleOfConfusionMm: bodyNumber({
    min: 0.001,
    max: 2,
    description: "Largest blur on the sensor that still passes for a point [mm]; default: the diagonal divided by 1500",
  }).optional(),
  print: z
    .strictObject({
      longSideMm: bodyNumber({ min: 10, max: 100_000, description: "The longer side of the print [mm]", example: 600 }),
      viewingDistanceMm: bodyNumber({
        min: 50,
        max: 1e6,
        description: "From the eye to the print [mm]; default: its diagonal, no nearer than 250 mm",
      }).optional(),
    })
    .openapi("PrintInput")
    .optional()
    .openapi({ description: "How the photograph will be looked at, in place of circleOfConfusionMm" }),
};

export const sharpnessRules = notTogether("circleOfConfusionMm", "print");

/** More than the focal length of any lens, which is 1 mm at least [m]. */
export const NEAREST_M = 0.001;

/** A distance that may be past anything that matters. */
export function distance(description: string, example: number | "infinity") {
  return z
    .union([
      bodyNumber({ over: NEAREST_M, max: 1e6, description: "[m], more than the focal length" }),
      z.literal("infinity"),
    ])
    .openapi({ description, example });
}

export const FarLimit = z
  .discriminatedUnion("kind", [
    z.object({ kind: z.literal("distance"), distanceM: z.number() }).openapi("FarLimitAtDistance"),
    z.object({ kind: z.literal("infinity"), distanceM: z.null() }).openapi("FarLimitAtInfinity"),
  ])
  .openapi("FarLimit");

export const Diffraction = z
  .object({
    airyDiameterUm: z.number().openapi({ description: "Diameter of the Airy disc in green light [µm]" }),
    apertureAtCircleOfConfusion: z
      .number()
      .openapi({ description: "The f-number past which the disc is larger than the circle of confusion" }),
    apertureAtTwoPixels: z
      .number()
      .optional()
      .openapi({ description: "The f-number past which the disc is wider than two pixels, where those are known" }),
  })
  .openapi("Diffraction");

export type CameraOpticsChecks = [
  Assert<SameShape<z.output<ReturnType<typeof distance>>, Distance>>,
  Assert<SameShape<z.output<typeof FarLimit>, CoreFarLimit>>,
  Assert<SameShape<z.output<typeof Diffraction>, CoreDiffraction>>,
];
