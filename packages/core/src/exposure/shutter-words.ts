import type { ShutterSetting } from "./settings";

// Longest mark of shutter dials: longer times are held by hand or a timer
const LONGEST_MARK_SECONDS = 30;
// Our own choice: from here on a time that lies more than a tenth of a stop from its mark is counted, so that 16 s and 18 s are not both told as 15 s
const COUNTED_FROM_SECONDS = 10;
const NEAR_MARK_STOPS = 0.1;

/**
 * Tell a time as one sets it: as marked up to 30 s, from 10 s on only where the mark lies within a tenth of a stop; else counted in seconds, or in minutes
 * and seconds to what matters.
 * @example bulbWords(92) // "1 min 30 s"
 */
export function shutterWords({ seconds, nominal, offsetStops, nominalSeconds }: ShutterSetting): string {
  const isMarked =
    nominalSeconds <= LONGEST_MARK_SECONDS &&
    (seconds < COUNTED_FROM_SECONDS || Math.abs(offsetStops) <= NEAR_MARK_STOPS);
  return isMarked ? nominal : bulbWords(seconds);
}

/** Seconds under a minute; five seconds' steps to five minutes, thirty beyond. */
export function bulbWords(seconds: number): string {
  if (seconds < 10) return `${Math.round(seconds * 2) / 2} s`;
  if (seconds < 59.5) return `${Math.round(seconds)} s`;
  const step = seconds < 300 ? 5 : 30;
  const told = Math.round(seconds / step) * step;
  const minutes = Math.floor(told / 60);
  const rest = told % 60;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
}
