import { z } from "@hono/zod-openapi";
import { bodyNumber, queryNumber } from "./numbers";

const latitude = { min: -90, max: 90, description: "Latitude, WGS 84 [deg], north positive", example: 56.601 };
const longitude = { min: -180, max: 180, description: "Longitude, WGS 84 [deg], east positive", example: -9.418 };
const elevationM = {
  min: -500,
  max: 9000,
  description:
    "Height of the ground above mean sea level [m]; default: from the elevation data where the answer reads them, else 0",
  example: 4,
};
const eyeHeightM = {
  min: 0.5,
  max: 1000,
  description: "Height of the eye or lens above the ground [m]; default 1.6",
  example: 1.6,
};
const timeZone = z
  .string()
  .min(1)
  .max(64)
  .openapi({ description: "IANA time zone; default: looked up from the coordinates", example: "Atlantic/Reykjavik" });

/** A place as query parameters. */
export const PlaceQuery = {
  latitude: queryNumber(latitude),
  longitude: queryNumber(longitude),
  elevationM: queryNumber(elevationM).optional(),
  eyeHeightM: queryNumber(eyeHeightM).optional(),
  timeZone: timeZone.optional(),
};

/** A place in a request body. */
export const PlaceInput = z
  .strictObject({
    name: z.string().max(200).optional().openapi({ example: "Ardvane strand" }),
    latitude: bodyNumber(latitude),
    longitude: bodyNumber(longitude),
    elevationM: bodyNumber(elevationM).optional(),
    eyeHeightM: bodyNumber(eyeHeightM).optional(),
    timeZone: timeZone.optional(),
  })
  .openapi("PlaceInput");
