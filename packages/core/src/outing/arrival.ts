import { requireInRange } from "../domain-error";
import type { Assumption } from "../notes";

/** One part of the time between setting out and the first frame, or between the last frame and leaving. */
export interface TimePart {
  readonly part: "walk-in" | "find-spot" | "set-up" | "last-frames";
  readonly minutes: number;
  readonly why: string;
}

export interface Arrival {
  readonly arriveMs: number;
  /** What lies between arriving at the start of the walk and the first moment. */
  readonly parts: readonly TimePart[];
}

const LONGEST_WALK_MINUTES = 720;
// Our own choice where nothing is said: most spots are a short walk from where one parks
const USUAL_WALK_MINUTES = 15;
// Common practice
const SET_UP_MINUTES = 15;
const FIND_SPOT_MINUTES = 15;
const FIND_SPOT_IN_THE_DARK_MINUTES = 25;
const MINUTE_MS = 60_000;

/**
 * Compute when to arrive where the walk begins: the first moment less the walk in, the time to find the spot, which is longer in the dark, and to set up.
 * @param walkInMinutes [min], 0 to 720; assumed where absent
 * @param isDark whether it is dark at an instant [Unix ms]
 * @throws DomainError for a walk out of range
 */
export function arrivalFor(
  firstMs: number,
  walkInMinutes: number | undefined,
  isDark: (ms: number) => boolean,
  assumptions: Assumption[],
): Arrival {
  if (walkInMinutes === undefined) {
    const why = "how far the spot is was not said; give walkInMinutes";
    assumptions.push({ field: "walkInMinutes", value: USUAL_WALK_MINUTES, why });
  }
  const walk = requireInRange("walkInMinutes", walkInMinutes ?? USUAL_WALK_MINUTES, 0, LONGEST_WALK_MINUTES, "min");
  const dark = isDark(firstMs - (SET_UP_MINUTES + FIND_SPOT_MINUTES) * MINUTE_MS);
  const find = dark ? FIND_SPOT_IN_THE_DARK_MINUTES : FIND_SPOT_MINUTES;
  const parts: TimePart[] = [
    { part: "walk-in", minutes: walk, why: walkInMinutes === undefined ? "assumed" : "as given" },
    { part: "find-spot", minutes: find, why: dark ? "in the dark" : "in daylight" },
    { part: "set-up", minutes: SET_UP_MINUTES, why: "tripod, framing, filters" },
  ];
  const minutes = parts.reduce((sum, part) => sum + part.minutes, 0);
  return { arriveMs: firstMs - minutes * MINUTE_MS, parts };
}
