import { within } from "@fieldstop/core/domain-error";
import { type ZoneClock, zoneClock } from "@fieldstop/core/instants";
import type { Assumption } from "@fieldstop/core/notes";
import type { Dependencies } from "../dependencies";
import type { PlaceInput } from "./place-input";

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
