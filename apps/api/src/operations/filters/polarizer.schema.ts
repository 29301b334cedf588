import type { PolarizerInFrame as CorePolarizerInFrame, WaterInFrame as CoreWaterInFrame } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { PointedCameraInput } from "../shared/camera";
import { HorizonInput } from "../shared/horizon";
import { Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import { exactlyOneOf, forbidden, given, onlyWith, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkyInput } from "../shared/sky";
import { FilterInput } from "./filter.schema";

const SunDirection = z
  .strictObject({
    azimuthDeg: bodyNumber({ min: 0, max: 360, description: "Degrees clockwise from true north", example: 250 }),
    altitudeDeg: bodyNumber({ min: -90, max: 90, description: "Apparent altitude [deg]", example: 8 }),
  })
  .openapi("SunDirection");

const WaterInput = z
  .strictObject({
    surface: z
      .enum(["still-water", "wet-sand"])
      .optional()
      .openapi({ description: "Default still water; wet sand is the same film, tilted here and there" }),
    refractiveIndex: bodyNumber({ min: 1, max: 4, description: "Default 1.333, fresh water" }).optional(),
  })
  .openapi("WaterInput", { description: "Water or a wet beach below the horizon; absent: none" });

export const PolarizerInput = z
  .strictObject({
    place: PlaceInput.optional(),
    instant: InstantInput.optional().openapi({ description: "Default: now; together with place" }),
    sun: SunDirection.optional().openapi({ description: "In place of place and instant" }),
    camera: PointedCameraInput,
    horizon: HorizonInput.optional().openapi({ description: "Default: terrain with a place, else flat" }),
    sky: SkyInput.optional(),
    water: WaterInput.optional(),
    filter: z
      .strictObject({ kind: z.literal("polarizer"), lossStops: FilterInput.options[2].shape.lossStops })
      .openapi("PolarizerFilterInput")
      .optional(),
  })
  .openapi("PolarizerAssessmentInput", {
    description: "A place, or where the sun stands; with the latter the skyline is flat or a profile",
    ...saying(
      exactlyOneOf("place", "sun"),
      onlyWith("instant", "place"),
      forbidden(given("sun"), given("horizon", given("kind", { const: "terrain" }))),
    ),
  });

export const PolarizerVerdict = z
  .object({
    code: z.enum(["worth-it", "worth-it-with-care", "little-effect", "nothing-to-darken"]),
    text: z.string(),
  })
  .openapi("PolarizerVerdict");

export const PolarizerWarning = z
  .object({ code: z.enum(["uneven-sky", "sky-and-water-disagree"]), text: z.string() })
  .openapi("PolarizerWarning");

const corner = z.union([z.number(), z.null()]);

const SkyDarkening = z
  .object({
    rotationDeg: z.number().openapi({
      description: "0 with the filter's axis upright in the frame, clockwise as seen from behind the camera, to 180",
    }),
    meanStops: z.number().openapi({ description: "Against unpolarized surroundings [stops]: positive is darker" }),
    minStops: z.number(),
    maxStops: z.number(),
    rangeStops: z.number().openapi({ description: "The most less the least: how uneven the sky becomes" }),
    cornerStops: z
      .object({ topLeft: corner, topRight: corner, bottomLeft: corner, bottomRight: corner })
      .openapi("CornerDarkening", { description: "Null where a corner is not sky" }),
    cornerToCornerStops: corner,
  })
  .openapi("SkyDarkening");

const PolarizedSky = z
  .object({
    maxDegree: z.number().openapi({ description: "Degree of polarization a quarter turn from the sun, 0 to 1" }),
    maxDarkening: SkyDarkening,
    maxEvenness: SkyDarkening,
    grid: z.array(
      z
        .object({
          x: z.number().openapi({ description: "From 0 at the left edge of the frame to 1 at the right" }),
          y: z.number().openapi({ description: "From 0 at the top edge to 1 at the bottom" }),
          azimuthDeg: z.number(),
          altitudeDeg: z.number(),
          fromSunDeg: z.number(),
          degree: z.number().openapi({ description: "Degree of polarization, 0 to 1" }),
          darkeningStops: z.number().openapi({ description: "At the rotation that darkens most" }),
        })
        .openapi("SkyDarkeningPoint"),
    ),
  })
  .openapi("PolarizedSky");

const PolarizedWater = z
  .object({
    surface: z.enum(["still-water", "wet-sand"]),
    refractiveIndex: z.number(),
    polarizingAngleDeg: z.number().openapi({ description: "Incidence at which glare is wholly polarized" }),
    polarizingDepressionDeg: z.number(),
    rotationDeg: z.number().openapi({ description: "The rotation that leaves the least glare" }),
    glareLeftPercent: z.number().openapi({
      description: "Against unpolarized surroundings: 100 is a filter that does nothing, 0 one that stops the glare",
    }),
    byDepression: z.array(
      z
        .object({
          y: z.number(),
          depressionDeg: z.number(),
          incidenceDeg: z.number(),
          reflectancePercent: z.number(),
          glareLeftPercent: z.number(),
        })
        .openapi("GlareLeft"),
    ),
  })
  .openapi("PolarizedWater");

export const PolarizerAssessment = z
  .object({
    instant: Instant.optional(),
    sun: z.object({ azimuthDeg: z.number(), altitudeDeg: z.number() }).openapi("SunSeen"),
    lossStops: z.number().openapi({ description: "The light that it costs [stops]" }),
    sky: z.union([PolarizedSky, z.null()]).openapi({ description: "Null where no sky is in the frame" }),
    water: z.union([PolarizedWater, z.null()]).openapi({ description: "Null where no water is in the frame" }),
    conflict: z.union([
      z
        .object({
          apartDeg: z.number().openapi({ description: "Between the best rotations for sky and water, 0 to 90" }),
          skyLosesStops: z.number().openapi({ description: "Of its mean darkening, at the water's rotation" }),
          waterKeepsPercent: z.number().openapi({ description: "Of glare more, at the sky's rotation [points]" }),
        })
        .openapi("PolarizerConflict"),
      z.null(),
    ]),
    verdict: PolarizerVerdict,
    warnings: z.array(PolarizerWarning),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("PolarizerAssessment");

export type PolarizerCheck = Assert<
  SameShape<Omit<z.output<typeof PolarizerAssessment>, "instant">, CorePolarizerInFrame>
>;
export type WaterCheck = Assert<SameShape<z.output<typeof WaterInput>, CoreWaterInFrame>>;
