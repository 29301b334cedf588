const ID_BYTES = 16;

/**
 * The same for the same thing at the same place on the same day, whoever asks and whatever the weather: what calendars and deliveries know it by.
 * @param what a session, or one of the day's windows
 */
export async function stableId(
  place: { readonly latitude: number; readonly longitude: number },
  date: string,
  what: string,
): Promise<string> {
  const named = `${place.latitude.toFixed(6)},${place.longitude.toFixed(6)},${date},${what}`;
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(named)));
  return [...hash.subarray(0, ID_BYTES)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
