import { createHash } from "node:crypto";

const ID_CHARACTERS = 32;

/**
 * The same for the same thing at the same place on the same day, whoever asks and whatever the weather: what calendars and deliveries know it by.
 * @param what a session, or one of the day's windows
 */
export function stableId(
  place: { readonly latitude: number; readonly longitude: number },
  date: string,
  what: string,
): string {
  const named = `${place.latitude.toFixed(6)},${place.longitude.toFixed(6)},${date},${what}`;
  return createHash("sha256").update(named).digest("hex").slice(0, ID_CHARACTERS);
}
