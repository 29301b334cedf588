/** Forecasts are made hourly or less often: without an Expires field that is how long an answer is kept [ms]. */
const USUAL_MS = 3_600_000;
const LEAST_MS = 60_000;
const MOST_MS = 24 * 3_600_000;

/** Until when an answer need not be asked for again [Unix ms]: by max-age, then Expires (RFC 9111, 5.3), within a minute and a day. */
export function freshUntilMs(headers: Headers, nowMs: number): number {
  const maxAge = /(?:^|,)\s*max-age=(\d{1,9})/i.exec(headers.get("Cache-Control") ?? "")?.[1];
  const expires = Date.parse(headers.get("Expires") ?? "");
  // by the sender's own clock, where it shows it
  const sent = Date.parse(headers.get("Date") ?? "");
  const expiresIn = expires - (Number.isNaN(sent) ? nowMs : sent);
  const forMs = maxAge !== undefined ? Number(maxAge) * 1000 : Number.isNaN(expiresIn) ? USUAL_MS : expiresIn;
  return nowMs + Math.min(MOST_MS, Math.max(LEAST_MS, forMs));
}
