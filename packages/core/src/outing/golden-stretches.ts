import type { LightWindows } from "../light/windows";

/** Direct light of a low sun, without a break. */
export interface GoldenStretch {
  readonly start: string;
  readonly end: string;
  readonly minutes: number;
}

/** Where direct light on what is photographed falls into the golden hours of one part of the day, in order of time. */
export function goldenStretches(
  { windows, directLight, subjectLight }: LightWindows,
  part: "morning" | "evening",
): GoldenStretch[] {
  const lit = (subjectLight ?? directLight).intervals;
  return windows
    .filter((window) => window.kind === "golden-hour" && window.part === part)
    .flatMap((window) => lit.flatMap((interval) => overlap(window, interval)));
}

type Span = Omit<GoldenStretch, "minutes">;

function overlap(a: Span, b: Span): GoldenStretch[] {
  const start = Date.parse(a.start) > Date.parse(b.start) ? a.start : b.start;
  const end = Date.parse(a.end) < Date.parse(b.end) ? a.end : b.end;
  const minutes = (Date.parse(end) - Date.parse(start)) / 60_000;
  return minutes > 0 ? [{ start, end, minutes }] : [];
}
