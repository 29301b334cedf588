import { type Night, nextDate, nightOf, type Timing, tonight } from "./night";

export interface DueNights {
  /** Their hour has come, and they lie ahead. */
  readonly due: readonly Night[];
  /** Their hour came while nobody was there to post, and they are over. */
  readonly missed: readonly Night[];
}

/** Nights further back than this are not even recorded as missed. */
const LONGEST_LOOK_BACK_DAYS = 60;

/**
 * The nights of a place whose hour has come since the night `through`, the last that was dealt with.
 * A place seen for the first time (`through` undefined) has none behind it: only what lies ahead is posted.
 * Tonight's is among them even where it was dealt with: the ledger knows what of it has been posted.
 */
export function dueNights(timing: Timing, through: string | undefined, nowMs: number): DueNights {
  const last = tonight(timing, nowMs);
  const earliest = nextDate(last, -LONGEST_LOOK_BACK_DAYS);
  let date = through === undefined || through >= last ? last : nextDate(through);
  if (date < earliest) date = earliest;
  const due: Night[] = [];
  const missed: Night[] = [];
  for (; date <= last; date = nextDate(date)) {
    const night = nightOf(timing, date);
    if (night === undefined || night.dueMs > nowMs) continue;
    if (night.overMs > nowMs) due.push(night);
    else missed.push(night);
  }
  return { due, missed };
}
