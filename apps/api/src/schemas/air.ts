import { queryNumber } from "./numbers";

/** The air at the place as query parameters, which refraction follows. */
export const AirQuery = {
  pressureHPa: queryNumber({
    min: 300,
    max: 1100,
    description: "Air pressure at the place, not reduced to sea level [hPa]; default: usual for the elevation",
    example: 1013,
  }).optional(),
  temperatureC: queryNumber({
    min: -90,
    max: 60,
    description: "Air temperature at the place [°C]; default 10",
    example: 8,
  }).optional(),
};
