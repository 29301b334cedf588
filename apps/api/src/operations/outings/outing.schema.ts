import type { OutingPlan as CoreOutingPlan } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { BracketFrame, BracketPlan } from "../brackets/bracket.schema";
import { ApertureSetting, ExposureSolution, IsoSetting, ShutterSetting } from "../exposure/exposure.schema";
import { FilterInput } from "../filters/filter.schema";
import { PolarizerVerdict, PolarizerWarning } from "../filters/polarizer.schema";
import { SkylineInFrame } from "../framing/skyline.schema";
import { SceneEv100 } from "../light/light-levels.schema";
import { LightWindows, ReportedPlace } from "../light/light-windows.schema";
import { OutingCamera } from "../shared/camera";
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
    camera: OutingCamera,
    subject: SubjectInput.optional(),
    scene: z.enum(["open-ground", "shaded-side", "under-trees", "interior-looking-out"]).optional().openapi({
      description: "What the photograph shows below the sky; default open-ground",
      example: "open-ground",
    }),
    foreground: z
      .strictObject({
        crossesSkyline: z
          .boolean()
          .optional()
          .openapi({ description: "Whether sand, rocks, trees or walls stand across the skyline" }),
      })
      .optional()
      .openapi("Foreground"),
    walkInMinutes: bodyNumber({
      min: 0,
      max: 720,
      description: "The way from where one parks to the spot [min]; default 15",
      example: 20,
    }).optional(),
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

const Reason = z
  .object({
    code: z.enum([
      "one-frame-is-enough",
      "one-frame-may-do",
      "one-frame-at-a-push",
      "night-kept-dark",
      "beyond-one-frame",
      "sun-in-frame",
      "graduated-fits",
      "graduated-not-enough",
      "over-still-water",
      "no-graduated-filter",
      "no-skyline-in-frame",
      "things-cross-the-skyline",
      "graduated-does-not-fit",
      "shadows-give-way",
      "stars-limit-the-time",
      "too-dark-for-these-settings",
      "light-fades-during-the-set",
    ]),
    text: z.string(),
  })
  .openapi("ApproachReason");

const Tone = z
  .object({
    name: z.enum(["brightest-sky", "mean-sky", "sun", "lit-ground", "open-shade", "deep-shade", "still-water"]),
    ev100: z.union([z.number(), z.null()]).openapi({ description: "Null for the sun, which clips in any frame" }),
    sharePercent: z
      .union([z.number(), z.null()])
      .openapi({ description: "How much of the frame it takes; null where that depends on what stands there" }),
  })
  .openapi("Tone");

const MomentName = z.enum([
  "hour-before-last-light",
  "last-direct-light",
  "sunset",
  "cloud-lit-end",
  "cloud-lit-start",
  "blue-hour",
  "civil-dusk",
  "civil-dawn",
  "nautical-dusk",
  "nautical-dawn",
  "astronomical-dusk",
  "astronomical-dawn",
  "sunrise",
  "first-direct-light",
  "hour-after-first-light",
  "low-sun-start",
  "low-sun-end",
  "lowest-sun",
  "highest-sun",
  "moonrise",
  "moon-highest",
  "moonset",
  "shutter-reached",
  "start",
  "end",
]);

const OutingFrame = z
  .object({
    ...BracketFrame.shape,
    purpose: z.enum(["sky", "middle", "foreground"]).openapi({ description: "What it is taken for" }),
  })
  .openapi("OutingFrame");

const WayToReach = z
  .object({
    code: z.enum(["filter", "weaker-filter", "aperture", "iso", "wait", "shorter"]),
    text: z.string(),
  })
  .openapi("WayToReach");

const OutingMoment = z
  .object({
    name: MomentName,
    instant: Instant,
    sun: SkyPosition,
    directLight: z.boolean().openapi({ description: "Whether the sun shines on what is photographed" }),
    sunInFrame: z.boolean().openapi({ description: "Whether the sun's disc is in the frame: it burns out" }),
    sunBesideFrame: z.boolean().openapi({ description: "Whether the sun shines on the lens from beside the frame" }),
    illuminanceLux: z.number(),
    ev100: SceneEv100,
    tones: z.array(Tone).openapi({ description: "The parts of the photograph, brightest first" }),
    contrastStops: z
      .number()
      .openapi({ description: "The mean sky in the frame over the ground that is shown [stops]" }),
    uncertaintyStops: z.number().openapi({ description: "What the levels may be off by [± stops]" }),
    lightStopsPerMinute: z.number().openapi({ description: "Negative while the light fades" }),
    approach: z
      .object({
        kind: z.enum([
          "single",
          "single-or-bracket",
          "graduated",
          "bracket",
          "graduated-and-bracket",
          "beyond-one-set",
        ]),
        marginStops: z
          .number()
          .openapi({ description: "Room left inside what a frame holds well; negative beyond [stops]" }),
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
    bracket: z
      .object({
        ...BracketPlan.pick({
          count: true,
          stepStops: true,
          totalSeconds: true,
          coverageStops: true,
          reasons: true,
          warnings: true,
        }).shape,
        frames: z.array(OutingFrame),
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
        set: z.string().openapi({ description: "The time to set, as one sets it", example: "1 min 30 s" }),
        naiveErrorStops: z.union([z.number(), z.null()]),
        darkerStops: z.number().openapi({
          description:
            "How much darker than the approach's exposure it is taken, to meet the time; negative for brighter",
        }),
        meetsWanted: z.boolean(),
        toReach: z
          .array(WayToReach)
          .openapi({ description: "What would reach the wanted time where the bag does not" }),
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
          name: MomentName,
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
      "water",
      "polarizer",
      "neutral-density",
      "graduated-filter",
      "lens-hood",
      "lens-cloth",
      "spare-battery",
    ]),
    why: z.string(),
  })
  .openapi("PackItem");

const CloudOutlook = z
  .object({ outlook: z.enum(["unlikely", "possible", "likely"]), reasons: z.array(z.string()) })
  .openapi("CloudOutlook", { description: "Whether cloud will take colour from the low sun: guidance" });

const TimePart = z
  .object({
    part: z.enum(["walk-in", "find-spot", "set-up", "last-frames"]),
    minutes: z.number(),
    why: z.string(),
  })
  .openapi("TimePart");

const GoodLight = z.object({ start: Instant, end: Instant, minutes: z.number() }).openapi("GoodLight");

const SessionLight = z
  .object({
    part: z.enum(["evening", "morning", "midnight-sun", "polar-night", "span"]),
    golden: z.array(GoodLight).openapi({ description: "Direct light of a low sun on what is photographed" }),
    blueHour: z.array(GoodLight),
  })
  .openapi("SessionLight", { description: "The good light of this session, wherever midnight falls in it" });

const Stretch = z.object({ start: Instant, end: Instant }).openapi("Stretch");

const OutingNight = z
  .object({
    darkHours: z.array(Stretch).openapi({ description: "Without sun and moon" }),
    moonlight: z.array(Stretch).openapi({ description: "The moon over the ridge, the sun well down" }),
    starTrails: z
      .object({
        longestSeconds: z.number(),
        declinationDeg: z.number().openapi({ description: "Of the stars in the frame that move fastest" }),
        pixelPitchUm: z.number(),
        pixels: z.number().openapi({ description: "How far a star may move" }),
      })
      .openapi("StarTrails", { description: "The longest time before stars draw trails" }),
  })
  .openapi("OutingNight", { description: "Where it gets dark enough for stars in a span" });

export const Verdict = z
  .object({
    grade: z.enum(["go", "could-go", "stay-home"]),
    reasons: z.array(
      z
        .object({
          code: z.enum([
            "weather-not-known",
            "terrain-not-known",
            "low-cloud",
            "cloud-may-colour",
            "little-cloud",
            "direct-light",
            "direct-light-cut-short",
            "no-direct-light",
            "midnight-sun",
            "polar-twilight",
            "soft-light",
            "sun-patches",
            "high-sun",
            "dark-sky",
            "moonlight",
            "lens-fog",
          ]),
          text: z.string(),
        })
        .openapi("VerdictReason"),
    ),
    sureness: z.enum(["sure", "fairly-sure", "unsure"]),
    text: z.string().openapi({ description: "One sentence" }),
  })
  .openapi("Verdict", { description: "Go or stay, the reasons in order of weight" });

export const OutingPlan = z
  .object({
    verdict: Verdict,
    place: ReportedPlace,
    date: z.string(),
    timeZone: z.string(),
    arriveBy: Instant.openapi({ description: "When to be where the walk begins" }),
    arriveByParts: z.array(TimePart).openapi({ description: "What lies between that and the first moment" }),
    stayUntil: Instant,
    stayUntilParts: z.array(TimePart),
    light: LightWindows,
    sessionLight: SessionLight,
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
    night: OutingNight.optional(),
    cloudOutlook: CloudOutlook.optional(),
    dew: DewPoint.optional(),
    tide: OutingTide.optional(),
    cautions: z.array(Caution),
    assumptions: z.array(Assumption),
  })
  .openapi("OutingPlan");

export type OutingPlanCheck = Assert<SameShape<z.output<typeof OutingPlan>, CoreOutingPlan>>;
