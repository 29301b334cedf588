import { type Assumption, within, type ZoneClock, zoneClock } from "@fieldstop/core";
import type { Services } from "../services";

export interface AskedPlace {
  readonly latitude: number;
  readonly longitude: number;
  readonly timeZone?: string | undefined;
}

export interface PlaceTime {
  readonly timeZone: string;
  readonly clock: ZoneClock;
  readonly assumptions: readonly Assumption[];
}

/** The zone of a place: as given, else looked up from its coordinates, which the answer then says. */
export function placeTime(services: Services, place: AskedPlace): PlaceTime {
  const given = place.timeZone;
  if (given !== undefined) {
    return { timeZone: given, clock: within("place", () => zoneClock(given)), assumptions: [] };
  }
  const timeZone = services.timeZoneAt(place.latitude, place.longitude);
  const assumption = { field: "timeZone", value: timeZone, why: "looked up from the coordinates" };
  return { timeZone, clock: zoneClock(timeZone), assumptions: [assumption] };
}
