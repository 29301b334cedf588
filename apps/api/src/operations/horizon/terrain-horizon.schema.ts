import type { TerrainHorizon as ScannedHorizon } from "@fieldstop/terrain";
import { z } from "@hono/zod-openapi";
import { AzimuthRanges } from "../shared/horizon";
import { Assumption, Caution } from "../shared/notes";
import { queryNumber } from "../shared/numbers";
import { PlaceQuery } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";

/** Where to stand and how finely and far to look. */
export const HorizonQuery = z.strictObject({
  latitude: PlaceQuery.latitude,
  longitude: PlaceQuery.longitude,
  eyeHeightM: PlaceQuery.eyeHeightM,
  stepDeg: queryNumber({
    min: 0.05,
    max: 30,
    description:
      "Even step round the compass [deg], as near as a whole number of steps allows. Without it 0.25, and closer where a look between shows that straight lines miss the skyline by 0.01; a narrow peak between two looks can still stand higher",
    example: 0.25,
  }).optional(),
  snapToHighestWithinM: queryNumber({
    min: 1,
    max: 1000,
    description:
      "Stand on the highest ground of the data within so much of the place [m]: a summit's own coordinates mostly miss it",
    example: 100,
  }).optional(),
  radiusKm: queryNumber({
    min: 0.1,
    max: 400,
    description: "How far to look [km]; default 150, less where nothing farther could rise",
    example: 150,
  }).optional(),
});

const TerrainViewpoint = z
  .object({
    latitude: z.number(),
    longitude: z.number(),
    groundElevationM: z.number().openapi({ description: "Height of the ground by the elevation data [m]" }),
    eyeHeightM: z.number(),
  })
  .openapi("TerrainViewpoint");

const SnappedFrom = z
  .object({
    latitude: z.number(),
    longitude: z.number(),
    distanceM: z.number().openapi({ description: "From there to the viewpoint [m]" }),
  })
  .openapi("SnappedFrom");

const ElevationSource = z
  .object({ name: z.string(), resolutionM: z.number(), attribution: z.string().optional() })
  .openapi("ElevationSource");

const MissingElevationTile = z
  .object({
    name: z.string().openapi({ example: "N56W011" }),
    reason: z.enum(["absent", "unreadable"]),
    detail: z.string().optional(),
    azimuthsDeg: AzimuthRanges.openapi({ description: "Where it could matter" }),
  })
  .openapi("MissingElevationTile");

export const TerrainHorizon = z
  .object({
    viewpoint: TerrainViewpoint,
    snappedFrom: SnappedFrom.optional().openapi({
      description: "The place asked for, where the viewpoint was moved to the highest ground near it",
    }),
    azimuthsDeg: z.array(z.number()).openapi({
      description: "Degrees clockwise from true north, ascending; unevenly spaced unless a step is asked for",
    }),
    altitudesDeg: z.array(z.number()).openapi({
      description: "Apparent altitude of the skyline [deg], one for each azimuth; below zero over the sea",
    }),
    distancesM: z.array(z.number()).openapi({ description: "Distance of the ground or sea that makes it [m]" }),
    skyViewFactor: z
      .number()
      .openapi({ description: "Share of an even sky's light that reaches level ground here, 0 to 1" }),
    source: ElevationSource,
    missingTiles: z.array(MissingElevationTile).openapi({ description: "Tiles that could raise the skyline" }),
    uncertainAzimuthsDeg: AzimuthRanges.openapi({
      description: "Where ground that is not known could stand above the skyline",
    }),
    refractionCoefficient: z.number(),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("TerrainHorizon");

type Answer = z.infer<typeof TerrainHorizon>;
export type TerrainHorizonMirrorsScan = Assert<
  SameShape<Pick<Answer, "viewpoint" | "source">, Pick<ScannedHorizon, "viewpoint" | "source">>
>;
