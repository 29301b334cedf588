import type {
  ApertureSetting as CoreApertureSetting,
  Caution as CoreCaution,
  Equivalents as CoreEquivalents,
  ExposureSolution as CoreExposureSolution,
  IsoSetting as CoreIsoSetting,
  ShutterSetting as CoreShutterSetting,
} from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { FilterList } from "../filters/filter.schema";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { absent, atMostOneOf, exactlyOneOf, forbidden, given, notTogether, onlyWith, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";

/** The light in one of three ways, and the meter that read it. */
export const meterReading = {
  ev100: bodyNumber({ min: -40, max: 40, description: "The light as EV at ISO 100", example: 12 }).optional(),
  luminanceCdPerM2: bodyNumber({
    over: 0,
    description: "Mean luminance of the subject [cd/m²], in place of ev100",
  }).optional(),
  illuminanceLux: bodyNumber({ over: 0, description: "Illuminance on the subject [lx], in place of ev100" }).optional(),
  meterConstantK: bodyNumber({
    min: 10.6,
    max: 13.4,
    description: "Reflected-light calibration constant K [cd s/m²]; default 12.5",
  }).optional(),
  meterConstantC: bodyNumber({
    min: 240,
    max: 540,
    description: "Incident-light calibration constant C [lx s]; default 250 for a flat receptor, 330 for a dome",
  }).optional(),
  receptor: z
    .enum(["flat", "hemispherical"])
    .optional()
    .openapi({ description: "What an incident meter gathers light with; default flat" }),
};

const WAYS_OF_LIGHT = ["ev100", "luminanceCdPerM2", "illuminanceLux"] as const;
/** Each receptor has constants of its own. */
const meterRules = [
  forbidden(
    given("illuminanceLux"),
    given("receptor", { const: "flat" }),
    given("meterConstantC", { exclusiveMinimum: 400 }),
  ),
  forbidden(
    given("illuminanceLux"),
    given("receptor", { const: "hemispherical" }),
    given("meterConstantC", { exclusiveMaximum: 320 }),
  ),
];
/** The light, once. */
export const oneLight = [exactlyOneOf(...WAYS_OF_LIGHT), ...meterRules];
/** The light, once or not at all. */
export const atMostOneLight = [atMostOneOf(...WAYS_OF_LIGHT), ...meterRules];

export const apertureNumber = bodyNumber({
  min: 0.1,
  max: 1024,
  description: "f-number. A mark of the series is read as what it stands for: 11 is f/11, which is 11.31",
  example: 11,
});
export const shutterNumber = bodyNumber({
  min: 1e-6,
  max: 1e7,
  description:
    "Shutter time [s]. Up to 30 s a mark of the series is read as what it stands for: 0.008 is 1/125 s, which is 1/128 s",
  example: 0.008,
});
export const isoNumber = bodyNumber({
  min: 1,
  max: 1e7,
  description: "ISO. A mark of the series is read as what it stands for: 1250 is 1269.9",
  example: 100,
});
export const compensationNumber = bodyNumber({
  min: -15,
  max: 15,
  description: "Exposure beyond what the meter says [stops], positive for brighter; default 0",
});
export const SeriesStep = z
  .enum(["full", "half", "third"])
  .openapi({ description: "How finely dials are divided; default: read thirds, then halves, and write thirds" });

const origin = z.enum(["mark", "value", "solved"]).openapi({
  description: "mark: the number given was read as a mark; value: it was taken as it is; solved: it was calculated",
});
const offsetStops = z.number().openapi({ description: "Exposure beyond what the nearest mark stands for [stops]" });

export const ApertureSetting = z
  .object({
    exact: z.number().openapi({ description: "Exact f-number", example: 11.313708499 }),
    nominal: z.string().openapi({ description: "The nearest mark", example: "f/11" }),
    nominalValue: z.number().openapi({ example: 11 }),
    offsetStops,
    origin,
  })
  .openapi("ApertureSetting");

export const ShutterSetting = z
  .object({
    seconds: z.number().openapi({ description: "Exact time [s]", example: 0.0078125 }),
    nominal: z.string().openapi({ description: "The nearest mark", example: "1/125 s" }),
    nominalSeconds: z.number().openapi({ example: 0.008 }),
    offsetStops,
    origin,
  })
  .openapi("ShutterSetting");

export const IsoSetting = z
  .object({
    exact: z.number().openapi({ description: "Exact arithmetic speed", example: 100 }),
    nominal: z.string().openapi({ description: "The nearest mark", example: "ISO 100" }),
    nominalValue: z.number().openapi({ example: 100 }),
    offsetStops,
    origin,
  })
  .openapi("IsoSetting");

export const ExposureInput = z
  .strictObject({
    ...meterReading,
    aperture: apertureNumber.optional(),
    shutterSeconds: shutterNumber.optional(),
    iso: isoNumber.optional(),
    filters: FilterList.optional(),
    compensationStops: compensationNumber.optional(),
    series: SeriesStep.optional(),
    readAs: z.enum(["marks", "values"]).optional().openapi({
      description:
        "Whether numbers that are marks are read as marks, or each as the exact value it says; default marks",
    }),
    video: z
      .strictObject({
        frameRate: bodyNumber({ min: 0.01, max: 10_000, description: "Frames each second", example: 25 }),
        shutterAngleDeg: bodyNumber({ over: 0, max: 360, description: "Shutter angle [deg]; default 180" }).optional(),
      })
      .openapi("VideoInput")
      .optional()
      .openapi({ description: "A video camera whose shutter is to be held; with aperture and iso" }),
  })
  .openapi("ExposureInput", {
    description: "The light in exactly one way, and exactly two of aperture, shutterSeconds and iso",
    ...saying(
      ...oneLight,
      notTogether("aperture", "shutterSeconds", "iso"),
      forbidden(absent("aperture", "shutterSeconds")),
      forbidden(absent("aperture", "iso")),
      forbidden(absent("shutterSeconds", "iso")),
      onlyWith("video", "aperture", "iso"),
    ),
  });

export const ExposureSolution = z
  .object({
    aperture: ApertureSetting,
    shutter: ShutterSetting,
    iso: IsoSetting,
    solvedFor: z.enum(["aperture", "shutter", "iso"]),
    ev100: z.number().openapi({ description: "The light [EV100]" }),
    settingsEv100: z.number().openapi({ description: "The light less compensation and filters [EV100]" }),
    compensationStops: z.number(),
    attenuationStops: z.number().openapi({ description: "What the filters take from the whole frame [stops]" }),
    video: z
      .object({
        shutterSeconds: z.number(),
        attenuationStops: z.number().openapi({ description: "Filters to put on besides [stops]" }),
        shortfallStops: z.number().openapi({ description: "Light that is missing [stops]" }),
      })
      .openapi("VideoExposure")
      .optional(),
    warnings: z.array(
      z.object({ code: z.enum(["needs-bulb", "faster-than-shutter"]), text: z.string() }).openapi("ExposureWarning"),
    ),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("ExposureSolution");

const secondsLimit = (description: string) => bodyNumber({ min: 1e-6, max: 1e7, description }).optional();
const apertureLimit = (description: string) => bodyNumber({ min: 0.1, max: 1024, description }).optional();

/** A thing that moves past the camera, and what sees it. */
export const subjectMotion = {
  speedMPerS: bodyNumber({ min: 0, max: 1e5, description: "Speed [m/s]", example: 1.5 }),
  distanceM: bodyNumber({
    over: 0.001,
    description: "Distance from the lens [m], more than one focal length",
    example: 20,
  }),
  focalLengthMm: bodyNumber({ min: 1, max: 1e4, description: "Focal length [mm]", example: 24 }),
  pixelPitchUm: bodyNumber({ min: 0.1, max: 1000, description: "Pixel pitch [µm]", example: 4.3 }),
  pathAngleDeg: bodyNumber({
    min: 0,
    max: 180,
    description: "Angle between its path and the line of sight [deg]; default 90",
  }).optional(),
};

export const EquivalentsInput = z
  .strictObject({
    ...meterReading,
    iso: isoNumber,
    filters: FilterList.optional(),
    compensationStops: compensationNumber.optional(),
    minFNumber: bodyNumber({
      min: 0.5,
      max: 256,
      description: "Widest aperture of the lens; default 1.4",
    }).optional(),
    maxFNumber: bodyNumber({
      min: 0.5,
      max: 256,
      description: "Smallest aperture of the lens; default 22",
    }).optional(),
    series: SeriesStep.optional(),
    limits: z
      .strictObject({
        handHeldSeconds: secondsLimit("Longest shutter held by hand [s]"),
        subjectMotionSeconds: secondsLimit("Longest shutter for what moves [s]"),
        wantedBlurSeconds: secondsLimit("Shortest shutter for the blur that is wanted [s]"),
        diffractionAperture: apertureLimit("Smallest opening before diffraction costs sharpness [f-number]"),
        depthOfFieldAperture: apertureLimit("Widest opening for the depth of field that is wanted [f-number]"),
        minShutterSeconds: secondsLimit("Fastest shutter of the camera [s]; default 1/8000 s"),
        maxShutterSeconds: secondsLimit("Longest time that the camera counts [s]; default: none, bulb will do"),
      })
      .openapi("LadderLimitsInput")
      .optional(),
    handHeld: z
      .strictObject({
        focalLengthMm: bodyNumber({ min: 1, max: 1e4, description: "Focal length [mm]", example: 35 }),
        cropFactor: bodyNumber({ min: 0.1, max: 20, description: "Crop factor; default 1" }).optional(),
        stabilisationStops: bodyNumber({ min: 0, max: 10, description: "Stabilisation [stops]; default 0" }).optional(),
      })
      .openapi("HandHeldInput")
      .optional()
      .openapi({ description: "Lens and hands, in place of limits.handHeldSeconds" }),
    subjectMotion: z
      .strictObject({
        ...subjectMotion,
        blurPx: bodyNumber({ over: 0, max: 1e5, description: "Smear that is still good [px]", example: 2 }),
      })
      .openapi("SubjectBlurInput")
      .optional()
      .openapi({ description: "What moves, in place of limits.subjectMotionSeconds" }),
  })
  .openapi("EquivalentsInput", {
    description: "The light in exactly one way, and limits each given once",
    ...saying(
      ...oneLight,
      forbidden(given("handHeld"), given("limits", given("handHeldSeconds"))),
      forbidden(given("subjectMotion"), given("limits", given("subjectMotionSeconds"))),
      // past the usual end of the ring, which stands for the one that is not given
      forbidden(absent("maxFNumber"), given("minFNumber", { minimum: 23 })),
      forbidden(absent("minFNumber"), given("maxFNumber", { exclusiveMaximum: 1.4 })),
    ),
  });

const LadderLimit = z.enum([
  "hand-held",
  "subject-motion",
  "wanted-blur",
  "diffraction",
  "depth-of-field",
  "fastest-shutter",
  "longest-shutter",
]);
const isoNeeded = (description: string) => z.union([IsoSetting, z.null()]).openapi({ description });

export const Equivalents = z
  .object({
    ev100: z.number(),
    iso: IsoSetting,
    attenuationStops: z.number(),
    compensationStops: z.number(),
    rungs: z.array(
      z
        .object({
          aperture: ApertureSetting,
          shutter: ShutterSetting,
          limits: z.array(
            z
              .object({
                limit: LadderLimit,
                marginStops: z.number().openapi({ description: "How far inside the limit [stops]; negative past it" }),
                holds: z.boolean(),
              })
              .openapi("LimitMargin"),
          ),
          usable: z.boolean(),
          binding: z.union([LadderLimit, z.null()]).openapi({ description: "The limit with the least margin" }),
          isoNeeded: isoNeeded("The lowest ISO at which this aperture holds every limit"),
        })
        .openapi("LadderRung"),
    ),
    usableCount: z.int(),
    isoNeeded: isoNeeded("The lowest ISO at which some rung holds every limit"),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("Equivalents");

type WithCautions<T> = T & { readonly cautions: readonly CoreCaution[] };

export type ExposureChecks = [
  Assert<SameShape<z.output<typeof ApertureSetting>, CoreApertureSetting>>,
  Assert<SameShape<z.output<typeof ShutterSetting>, CoreShutterSetting>>,
  Assert<SameShape<z.output<typeof IsoSetting>, CoreIsoSetting>>,
  Assert<SameShape<z.output<typeof ExposureSolution>, WithCautions<CoreExposureSolution>>>,
  Assert<SameShape<z.output<typeof Equivalents>, WithCautions<CoreEquivalents>>>,
];
