import { z } from "@hono/zod-openapi";
import { bodyNumber } from "./numbers";
import { PlaceInput } from "./place";
import { absent, forbidden, given, saying, together } from "./rules";

/** What is photographed. */
export const SubjectInput = z
  .strictObject({
    latitude: PlaceInput.shape.latitude.optional(),
    longitude: PlaceInput.shape.longitude.optional(),
    facingAzimuthDeg: bodyNumber({
      min: 0,
      max: 360,
      description: "The way the surface looks, degrees clockwise from true north",
      example: 290,
    }).optional(),
    slopeDeg: bodyNumber({
      min: 0,
      max: 180,
      description: "The surface against the level [deg]: 0 flat ground, 90 a wall; default 90 where a facing is given",
      example: 60,
    }).optional(),
  })
  .openapi("SubjectInput", {
    description:
      "A subject with its own place has its own skyline; latitude and longitude go together, a slope needs a facing",
    ...saying(
      together("latitude", "longitude"),
      forbidden(absent("facingAzimuthDeg"), given("slopeDeg", { not: { enum: [0, 180] } })),
    ),
  });

/** The way the ground that matters faces. */
export const SurfaceInput = SubjectInput.pick({ facingAzimuthDeg: true, slopeDeg: true })
  .strict()
  .openapi("SurfaceInput", {
    description: "The way the ground that matters faces; default level. A slope needs a facing",
    ...saying(forbidden(absent("facingAzimuthDeg"), given("slopeDeg", { not: { const: 0 } }))),
  });
