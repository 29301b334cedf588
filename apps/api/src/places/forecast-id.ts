import type { ForecastSession, OutingPlan } from "@fieldstop/core";

const ID_BYTES = 16;

/** The same for the same place, day and session, whoever asks and whatever the weather: what calendars and deliveries know a forecast by. */
export async function forecastId(
  { place, date }: Pick<OutingPlan, "place" | "date">,
  session: ForecastSession,
): Promise<string> {
  const named = `${place.latitude.toFixed(6)},${place.longitude.toFixed(6)},${date},${session}`;
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(named)));
  return [...hash.subarray(0, ID_BYTES)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
