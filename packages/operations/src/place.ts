import { within } from "@fieldstop/core/domain-error";
import { type ZoneClock, zoneClock } from "@fieldstop/core/instants";
import type { Assumption } from "@fieldstop/core/notes";
import { type Atmosphere, usualPressureHPa } from "@fieldstop/core/sky";
import type { Dependencies } from "./dependencies";

/** A place as a request gives it. */
export interface PlaceInput {
  readonly name?: string | undefined;
  /** WGS 84 [deg]. */
  readonly latitude: number;
  readonly longitude: number;
  /** Ground above mean sea level [m]. */
  readonly elevationM?: number | undefined;
  /** Eye or lens above the ground [m]. */
  readonly eyeHeightM?: number | undefined;
  /** IANA name. */
  readonly timeZone?: string | undefined;
}

export interface PlaceTime {
  readonly timeZone: string;
  readonly clock: ZoneClock;
  readonly assumptions: readonly Assumption[];
}

/** The zone of a place: as given, else looked up from its coordinates, which the answer then says. */
export function placeTime(
  dependencies: Dependencies,
  place: Pick<PlaceInput, "latitude" | "longitude" | "timeZone">,
): PlaceTime {
  const given = place.timeZone;
  if (given !== undefined) {
    return { timeZone: given, clock: within("place", () => zoneClock(given)), assumptions: [] };
  }
  const timeZone = dependencies.timeZoneAt(place.latitude, place.longitude);
  const assumption = { field: "timeZone", value: timeZone, why: "looked up from the coordinates" };
  return { timeZone, clock: zoneClock(timeZone), assumptions: [assumption] };
}

export interface AirInput {
  readonly pressureHPa?: number | undefined;
  readonly temperatureC?: number | undefined;
}

// The temperature that refraction formulas are given for (Meeus 1998, Astronomical Algorithms, ch. 16)
const USUAL_TEMPERATURE_C = 10;

/** Take the air for refraction as given, or as usual at that height; the answer lists the latter as an assumption. */
export function airAt(input: AirInput, elevationM?: number): { atmosphere: Atmosphere; assumptions: Assumption[] } {
  const pressureHPa = input.pressureHPa ?? usualPressureHPa(elevationM ?? 0);
  const temperatureC = input.temperatureC ?? USUAL_TEMPERATURE_C;
  const assumptions: Assumption[] = [];
  if (input.pressureHPa === undefined) {
    const why = "usual for the elevation; near the horizon refraction follows it";
    assumptions.push({ field: "pressureHPa", value: Math.round(pressureHPa), why });
    if (elevationM === undefined) {
      const sea = "sea level: no terrain is read for this; the usual pressure, and so refraction, follows it";
      assumptions.push({ field: "elevationM", value: 0, why: sea });
    }
  }
  if (input.temperatureC === undefined) {
    assumptions.push({
      field: "temperatureC",
      value: temperatureC,
      why: "usual; near the horizon refraction follows it",
    });
  }
  return { atmosphere: { pressureHPa, temperatureC }, assumptions };
}
