import type { OutingPlan as CoreOutingPlan } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { BracketPlan } from "../brackets/bracket.schema";
import { ApertureSetting, ExposureSolution, IsoSetting, ShutterSetting } from "../exposure/exposure.schema";
import { FilterInput } from "../filters/filter.schema";
import { PolarizerVerdict, PolarizerWarning } from "../filters/polarizer.schema";
import { SkylineInFrame } from "../framing/skyline.schema";
import { LightWindows, ReportedPlace } from "../light/light-windows.schema";
import { ExposingCamera } from "../shared/camera";
import { HorizonInput } from "../shared/horizon";
import { DateInput, Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkyInput } from "../shared/sky";
import { SkyPosition } from "../shared/sky-position";
import { SubjectInput } from "../shared/subject";
import { DewPoint } from "../sky/dew-point.schema";
import { MoonPhaseName } from "../sky/moon-phase-name.schema";
import { TideExtreme, TideStationId } from "../water/tide.schema";

export const OutingInput = z
  .strictObject({
    place: PlaceInput,
    date: DateInput.optional(),
    session: z
      .union([
        z.enum(["evening", "morning"]),
        z.strictObject({ from: InstantInput, to: InstantInput }).openapi("SessionSpan"),
      ])
      .openapi({ description: "An evening, a morning, or a span of at most 24 hours", example: "evening" }),
    camera: ExposingCamera,
    subject: SubjectInput.optional(),
    filters: z.array(FilterInput).max(12).optional().openapi({ description: "What is in the bag" }),
    sky: SkyInput.optional(),
    horizon: HorizonInput.optional(),
    targetShutterSeconds: bodyNumber({
      min: 1e-6,
      max: 3600,
      description: "A shutter time that is wanted, as for smooth water [s]",
      example: 30,
    }).optional(),
    tideStation: TideStationId.optional().openapi({
      description: "Id of a tide station within 100 km of the place, or nearest; default: no tide in the plan",
      example: "nearest",
    }),
  })
  .openapi("OutingInput");

const SceneEv100 = z
  .object({
    sky: z.number().openapi({ description: "The sky in the frame, its mean" }),
    litGround: z.number(),
    openShade: z.number(),
    deepShade: z.number(),
    stillWater: z.number().openapi({ description: "The sky reflected in still water" }),
  })
  .openapi("SceneEv100");

const Reason = z
  .object({
    code: z.enum([
      "scene-fits-one-frame",
      "scene-exceeds-one-frame",
      "skyline-straight-enough",
      "skyline-too-uneven",
      "no-skyline-in-frame",
      "no-graduated-filter",
      "sky-not-brighter",
      "graduated-enough",
      "graduated-not-enough",
    ]),
    text: z.string(),
  })
  .openapi("ApproachReason");

const OutingMoment = z
  .object({
    name: z.enum([
      "hour-before-last-light",
      "last-direct-light",
      "sunset",
      "cloud-lit-end",
      "cloud-lit-start",
      "blue-hour",
      "civil-dusk",
      "civil-dawn",
      "sunrise",
      "first-direct-light",
      "hour-after-first-light",
      "lowest-sun",
      "highest-sun",
      "shutter-reached",
      "start",
      "end",
    ]),
    instant: Instant,
    sun: SkyPosition,
    directLight: z.boolean().openapi({ description: "Whether the sun shines on what is photographed" }),
    illuminanceLux: z.number(),
    ev100: SceneEv100,
    contrastStops: z.number().openapi({ description: "The sky in the frame over the ground that is shown [stops]" }),
    uncertaintyStops: z.number().openapi({ description: "What the levels may be off by [± stops]" }),
    lightStopsPerMinute: z.number().openapi({ description: "Negative while the light fades" }),
    approach: z
      .object({
        kind: z.enum(["single", "graduated", "bracket", "graduated-and-bracket"]),
        reasons: z.array(Reason),
      })
      .openapi("Approach"),
    exposure: z
      .object({
        aperture: ApertureSetting,
        shutter: ShutterSetting,
        iso: IsoSetting,
        ev100: z.number().openapi({ description: "What it is exposed for [EV100]" }),
        warnings: ExposureSolution.shape.warnings,
      })
      .openapi("OutingExposure", { description: "The single frame, or the middle one of the bracket" }),
    bracket: BracketPlan.pick({
      frames: true,
      count: true,
      stepStops: true,
      totalSeconds: true,
      coverageStops: true,
      reasons: true,
      warnings: true,
    })
      .openapi("OutingBracket")
      .optional(),
    polarizer: z
      .object({
        rotationDeg: z.number().openapi({
          description:
            "The rotation that darkens the sky most: 0 with the filter's axis upright, clockwise from behind the camera",
        }),
        meanStops: z.number().openapi({ description: "How much darker the sky gets on the mean [stops]" }),
        minStops: z.number(),
        maxStops: z.number(),
        rangeStops: z.number().openapi({ description: "How uneven the sky becomes across the frame" }),
        lossStops: z.number().openapi({ description: "The light that the filter costs" }),
        verdict: PolarizerVerdict,
        warnings: z.array(PolarizerWarning),
      })
      .openapi("PolarizerAdvice", { description: "Where a polarizer is in the bag and sky in the frame" })
      .optional(),
    graduated: z
      .object({
        stops: z.number(),
        transition: z.enum(["hard", "medium", "soft", "reverse"]),
        mark: z.string().openapi({ description: "As the filter is marked" }),
        tiltDeg: z
          .number()
          .openapi({ description: "How far it is turned to lie along the skyline, clockwise positive" }),
      })
      .openapi("GraduatedChoice")
      .optional(),
    longExposure: z
      .object({
        filters: z.array(z.string()).openapi({ description: "As the filters are marked" }),
        attenuationStops: z.number(),
        naive: ShutterSetting,
        corrected: z.union([ShutterSetting, z.null()]).openapi({
          description: "The time that gathers the light while it changes; null where the light does not last",
        }),
        naiveErrorStops: z.union([z.number(), z.null()]),
        meetsWanted: z.boolean(),
      })
      .openapi("LongExposurePlan")
      .optional(),
  })
  .openapi("OutingMoment");

const OutingTide = z
  .object({
    station: z
      .object({
        id: z.string(),
        name: z.string(),
        latitude: z.number(),
        longitude: z.number(),
        distanceKm: z.number().openapi({ description: "From the place of the outing [km]" }),
      })
      .openapi("OutingTideStation"),
    datum: z.string().openapi({ description: "What heights are counted from" }),
    extremes: z.array(TideExtreme).openapi({
      description: "From six hours before the arrival to six hours after the end",
    }),
    moments: z.array(
      z
        .object({
          name: OutingMoment.shape.name,
          instant: Instant,
          heightM: z.number(),
          trend: z.enum(["rising", "falling"]),
        })
        .openapi("TideAtMoment"),
    ),
    attribution: z.string().openapi({ description: "To be shown with the tide" }),
  })
  .openapi("OutingTide", { description: "What the water does, where a tide station was named" });

const PackItem = z
  .object({
    item: z.enum([
      "tripod",
      "remote-release",
      "lamp",
      "warm-layer",
      "polarizer",
      "neutral-density",
      "graduated-filter",
      "lens-cloth",
      "spare-battery",
    ]),
    why: z.string(),
  })
  .openapi("PackItem");

const CloudOutlook = z
  .object({ outlook: z.enum(["unlikely", "possible", "likely"]), reasons: z.array(z.string()) })
  .openapi("CloudOutlook", { description: "Whether cloud will take colour from the low sun: guidance" });

export const OutingPlan = z
  .object({
    place: ReportedPlace,
    date: z.string(),
    timeZone: z.string(),
    arriveBy: Instant,
    stayUntil: Instant,
    light: LightWindows,
    skyline: z.union([SkylineInFrame, z.null()]).openapi({
      description: "The skyline in the frame; null where the camera's direction was not given",
    }),
    moments: z.array(OutingMoment),
    pack: z.array(PackItem),
    moon: z
      .object({
        illuminatedFraction: z.number(),
        phase: z.number().openapi({ description: "0 new, 0.25 first quarter, 0.5 full, 0.75 last quarter" }),
        phaseName: MoonPhaseName,
        position: SkyPosition,
      })
      .openapi("OutingMoon"),
    cloudOutlook: CloudOutlook.optional(),
    dew: DewPoint.optional(),
    tide: OutingTide.optional(),
    cautions: z.array(Caution),
    assumptions: z.array(Assumption),
  })
  .openapi("OutingPlan");

export type OutingPlanCheck = Assert<SameShape<z.output<typeof OutingPlan>, CoreOutingPlan>>;
