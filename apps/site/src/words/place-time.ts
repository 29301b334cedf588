/** Everything here is the place's time: an instant carries its offset, and the reader's own zone never enters. */

/** The clock of an instant at its place, as 18:42, cut to the minute so that no light is promised that is gone. */
export function clockOf(instant: string): string {
  return instant.slice(11, 16);
}

/** Unix ms of an instant. */
export function msOf(instant: string): number {
  return Date.parse(instant);
}

/** An instant some minutes on, with the same offset. */
export function instantAfter(instant: string, minutes: number): string {
  return instantLike(instant, msOf(instant) + minutes * 60_000);
}

/** Unix ms as an instant with the offset of another one. */
export function instantLike(like: string, ms: number): string {
  const offset = /(Z|[+-]\d\d:\d\d)$/.exec(like)?.[1] ?? "Z";
  const sign = offset.startsWith("-") ? -1 : 1;
  const offsetMinutes = offset === "Z" ? 0 : sign * (Number(offset.slice(1, 3)) * 60 + Number(offset.slice(4, 6)));
  return new Date(ms + offsetMinutes * 60_000).toISOString().replace(/\.\d+Z$/, offset);
}

/** The local calendar day of a zone at a moment, YYYY-MM-DD. */
export function dateIn(timeZone: string | undefined, ms: number): string {
  const parts = new Intl.DateTimeFormat("en-GB", {
    ...(timeZone === undefined ? {} : { timeZone }),
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).formatToParts(ms);
  const part = (type: string): string => parts.find((one) => one.type === type)?.value ?? "";
  return `${part("year")}-${part("month")}-${part("day")}`;
}

/** Day and clock of a zone at a moment: 20 Mar, 18:42. */
export function clockIn(timeZone: string, ms: number): string {
  const options = { timeZone, day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" } as const;
  return new Intl.DateTimeFormat("en-GB", options).format(ms);
}

/** A day some days on. */
export function dateAfter(date: string, days: number): string {
  return new Date(Date.parse(`${date}T12:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}

/** Whether a text is a calendar day that the service can answer. */
export function isDate(text: string | null): text is string {
  if (text === null || !/^(19|20)\d\d-\d\d-\d\d$/.test(text)) return false;
  const ms = Date.parse(`${text}T12:00:00Z`);
  return Number.isFinite(ms) && new Date(ms).toISOString().startsWith(text);
}

/** A day in words: Saturday 20 March 2027. */
export function dayInWords(date: string, style: "long" | "short" = "long"): string {
  const options: Intl.DateTimeFormatOptions =
    style === "long"
      ? { weekday: "long", day: "numeric", month: "long", year: "numeric" }
      : { weekday: "short", day: "numeric", month: "short" };
  return new Intl.DateTimeFormat("en-GB", { ...options, timeZone: "UTC" })
    .format(Date.parse(`${date}T12:00:00Z`))
    .replace(",", "");
}

/** A length of time in words: 1 h 5 min. */
export function minutesInWords(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 60) return `${whole} min`;
  return whole % 60 === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

/** How old something is, in words. */
export function ageInWords(then: Date, nowMs: number): string {
  const minutes = Math.max(0, (nowMs - then.getTime()) / 60_000);
  if (minutes < 2) return "fresh";
  if (minutes < 120) return `${Math.round(minutes)} minutes old`;
  if (minutes < 48 * 60) return `${Math.round(minutes / 60)} hours old`;
  return `${Math.round(minutes / 1440)} days old`;
}
