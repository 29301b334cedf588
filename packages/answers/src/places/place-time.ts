import { within } from "@fieldstop/core/domain-error";
import { type ZoneClock, zoneClock } from "@fieldstop/core/instants";
import type { Assumption } from "@fieldstop/core/notes";
import type { Surroundings } from "../surroundings";
import type { AskedPlace } from "./asked-place";

export interface PlaceTime {
  readonly timeZone: string;
  readonly clock: ZoneClock;
  readonly assumptions: readonly Assumption[];
}

/** The zone of a place: as given, else looked up from its coordinates, which the answer then says. */
export function placeTime(
  surroundings: Surroundings,
  place: Pick<AskedPlace, "latitude" | "longitude" | "timeZone">,
): PlaceTime {
  const given = place.timeZone;
  if (given !== undefined) {
    return { timeZone: given, clock: within("place", () => zoneClock(given)), assumptions: [] };
  }
  const timeZone = surroundings.timeZoneAt(place.latitude, place.longitude);
  const assumption = { field: "timeZone", value: timeZone, why: "looked up from the coordinates" };
  return { timeZone, clock: zoneClock(timeZone), assumptions: [assumption] };
}
