import type { Assumption } from "../notes";

/** Temperature of the air at a place, as far as it is known. */
export interface Temperature {
  readonly temperatureC: number;
  readonly isKnown: boolean;
}

// Our own rough fit to the mean climate at sea level, no source: 27 °C to latitude 15°, 0.42 °C less for each degree beyond, and a swing of
// summer and winter that grows by 0.15 °C with each. Oceans and deserts differ by 10 °C.
const EQUATOR_C = 27;
const WARM_BELT_DEG = 15;
const COOLING_PER_DEGREE = 0.42;
const SWING_PER_DEGREE = 0.15;
const WARMEST_DAY_NORTH = 205;
// ISO 2533:1975, Standard Atmosphere: 6.5 °C for each 1000 m
const LAPSE_C_PER_M = 0.0065;

/** The temperature that is known, or a rough one by latitude, season and height, which is said as an assumption. */
export function temperatureAt(
  known: number | undefined,
  place: { readonly latitude: number; readonly elevationM: number },
  date: string,
  assumptions: Assumption[],
): Temperature {
  if (known !== undefined) return { temperatureC: known, isKnown: true };
  const degrees = Math.abs(place.latitude);
  const yearDay = (Date.parse(`${date}T00:00:00Z`) - Date.parse(`${date.slice(0, 4)}-01-01T00:00:00Z`)) / 86_400_000;
  const season = Math.cos((2 * Math.PI * (yearDay - WARMEST_DAY_NORTH)) / 365) * (place.latitude < 0 ? -1 : 1);
  const atSea =
    EQUATOR_C - COOLING_PER_DEGREE * Math.max(0, degrees - WARM_BELT_DEG) + SWING_PER_DEGREE * degrees * season;
  const temperatureC = Math.round(atSea - LAPSE_C_PER_M * Math.max(0, place.elevationM));
  const why = "by latitude, season and height alone, to ± 10 °C: what to wear follows it";
  assumptions.push({ field: "sky.temperatureC", value: temperatureC, why });
  return { temperatureC, isKnown: false };
}
