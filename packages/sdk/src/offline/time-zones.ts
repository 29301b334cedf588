import tzLookup from "@photostructure/tz-lookup";

/** IANA zone of a place. Loaded when first needed: the table outweighs all calculations together. */
export function timeZoneAt(latitude: number, longitude: number): string {
  return tzLookup(latitude, longitude);
}
