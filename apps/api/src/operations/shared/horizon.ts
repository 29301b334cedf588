import { z } from "@hono/zod-openapi";

const HorizonPoint = z
  .strictObject({
    azimuthDeg: z.number().min(0).max(360),
    altitudeDeg: z.number().min(-90).max(90),
    distanceM: z.number().min(0).optional(),
  })
  .openapi("HorizonPoint");

/** Which skyline to reckon with. */
export const HorizonInput = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("terrain") }).openapi("TerrainHorizonInput", {
      description: "The skyline of the service's elevation data; the default",
    }),
    z.strictObject({ kind: z.literal("flat") }).openapi("FlatHorizonInput", { description: "A sea horizon all round" }),
    z
      .strictObject({ kind: z.literal("profile"), points: z.array(HorizonPoint).min(2).max(7200) })
      .openapi("ProfileHorizonInput", {
        description: "A skyline as someone read it by compass and clinometer, in any order, no azimuth twice",
        example: {
          kind: "profile",
          points: [
            { azimuthDeg: 180, altitudeDeg: 0 },
            { azimuthDeg: 245, altitudeDeg: 4.5 },
            { azimuthDeg: 300, altitudeDeg: 3 },
            { azimuthDeg: 330, altitudeDeg: 0 },
          ],
        },
      }),
  ])
  .openapi("HorizonInput");

const AzimuthRange = z.array(z.number()).min(2).max(2).openapi({ description: "From and to [deg], clockwise" });

export const AzimuthRanges = z.array(AzimuthRange);

export const MissingTile = z
  .object({
    name: z.string(),
    reason: z.string(),
    azimuthsDeg: AzimuthRanges.openapi({ description: "The azimuths that it leaves uncertain" }),
  })
  .openapi("MissingTile");

export const HorizonReport = z
  .object({
    kind: z.enum(["flat", "profile", "terrain"]),
    source: z.string().optional(),
    missingTiles: z.array(MissingTile).optional(),
  })
  .openapi("HorizonReport");
