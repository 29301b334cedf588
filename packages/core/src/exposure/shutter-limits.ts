/** What the shutter of a camera can do by itself. */
export interface ShutterLimits {
  /** Fastest shutter time [s], as marked. */
  readonly minShutterSeconds?: number;
  /** Longest time that the camera counts by itself [s], as marked. */
  readonly maxShutterSeconds?: number;
}

// Common practice: the ends of most shutter dials, 1/8000 s and 30 s, by what the marks stand for (2^-13 s and 2^5 s)
export const USUAL_FASTEST_SECONDS = 2 ** -13;
export const USUAL_LONGEST_SECONDS = 2 ** 5;

// A time this far [stops] past the end of the dial still rounds to its last mark (half of a third of a stop)
export const MARK_SLACK_STOPS = 1 / 6;

/** Tell whether a time is past the longest mark by more than rounding to the mark. */
export function isPastLongest(seconds: number, longestSeconds: number = USUAL_LONGEST_SECONDS): boolean {
  return seconds > longestSeconds * 2 ** MARK_SLACK_STOPS;
}

/** Tell whether a time is shorter than the fastest mark by more than rounding to the mark. */
export function isFasterThanShutter(seconds: number, fastestSeconds: number = USUAL_FASTEST_SECONDS): boolean {
  return seconds < fastestSeconds * 2 ** -MARK_SLACK_STOPS;
}
