import { z } from "@hono/zod-openapi";
import { bodyNumber, queryNumber } from "./numbers";

const pressureHPa = {
  min: 300,
  max: 1100,
  description: "Air pressure at the place, not reduced to sea level [hPa]; default: usual for the elevation",
  example: 1013,
};
const temperatureC = { min: -90, max: 60, description: "Air temperature at the place [°C]; default 10", example: 8 };

/** The air at the place as query parameters, which refraction follows. */
export const AirQuery = {
  pressureHPa: queryNumber(pressureHPa).optional(),
  temperatureC: queryNumber(temperatureC).optional(),
};

/** The same in a request body. */
export const AtmosphereInput = z
  .strictObject({
    pressureHPa: bodyNumber(pressureHPa).optional(),
    temperatureC: bodyNumber(temperatureC).optional(),
  })
  .openapi("AtmosphereInput", { description: "The air, which refraction near the horizon follows" });
