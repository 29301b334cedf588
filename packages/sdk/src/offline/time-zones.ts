import { tzlookup } from "./time-zone-table.js";

/** IANA zone of a place. Loaded when first needed: the table outweighs all calculations together. */
export function timeZoneAt(latitude: number, longitude: number): string {
  return tzlookup(latitude, longitude) as string;
}
