import { oneLine } from "./escape";

/** What a place is called, else where it is. */
export function placeName(place: {
  readonly name?: string | undefined;
  readonly latitude: number;
  readonly longitude: number;
}): string {
  const name = oneLine(place.name ?? "");
  return name === "" ? `${place.latitude.toFixed(4)}, ${place.longitude.toFixed(4)}` : name;
}
