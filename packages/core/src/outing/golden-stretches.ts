import type { LightWindows } from "../light/windows";

/** Direct light of a low sun, without a break. */
export interface GoldenStretch {
  readonly start: string;
  readonly end: string;
  readonly minutes: number;
}

/**
 * Where direct light on what is photographed falls into the golden hours of one part of the day, in order of time. Where the sun stays up, a day
 * begins in the last evening's golden hour or ends in the next morning's: that is no part of its own evening or morning.
 */
export function goldenStretches(
  { windows, events, directLight, subjectLight }: LightWindows,
  part: "morning" | "evening",
): GoldenStretch[] {
  const lit = (subjectLight ?? directLight).intervals;
  const golden = windows.filter((window) => window.kind === "golden-hour" && window.part === part);
  const noon = events.find(({ name }) => name === "solar-noon");
  const own = golden.filter(({ start }) => noon === undefined || isOwn(start, noon.instant, part));
  return (own.length === 0 ? golden : own).flatMap((window) => lit.flatMap((interval) => overlap(window, interval)));
}

function isOwn(start: string, noon: string, part: "morning" | "evening"): boolean {
  return Date.parse(start) < Date.parse(noon) === (part === "morning");
}

type Span = Omit<GoldenStretch, "minutes">;

function overlap(a: Span, b: Span): GoldenStretch[] {
  const start = Date.parse(a.start) > Date.parse(b.start) ? a.start : b.start;
  const end = Date.parse(a.end) < Date.parse(b.end) ? a.end : b.end;
  const minutes = (Date.parse(end) - Date.parse(start)) / 60_000;
  return minutes > 0 ? [{ start, end, minutes }] : [];
}
