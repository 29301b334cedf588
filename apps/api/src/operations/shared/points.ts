import { DEFAULT_DAYS } from "./form-options";

/**
 * What operations count for against a client's limit: a point is about 10 ms of processor time. The figures come from `npm run bench -- points`, which
 * looks for the dearest input of each operation; none costs over 30 ms a point.
 */

/** A skyline that is not cached, and what is computed over it. */
export const SKYLINE_POINTS = 2;

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const YEAR_DAYS = 365.25;
/** Rows of light for a point, and rows that carry their directions. */
const ROWS_A_POINT = 120;
const DIRECTION_ROWS_A_POINT = 15;
const MAX_ROWS = 2000;
const ALIGNMENTS_POINTS_A_YEAR = 1;
const PLAN_POINTS = 2;
const TIDE_POINTS = 4;
const TIDE_POINTS_A_DAY = 0.5;

/** What a plan is asked that makes it dearer. */
export interface TideRequest {
  readonly tideStation?: string | undefined;
}

interface Span {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

/** Length of a span [days]; a day where none is given, nothing where it makes no sense and is refused. */
function daysOf({ from, to }: Span): number {
  if (from === undefined || to === undefined) return 1;
  const days = (Date.parse(to) - Date.parse(from)) / DAY_MS;
  return days > 0 ? days : 0;
}

/** Of rows of light, by their number. */
export function levelPoints(
  request: Span & { readonly stepMinutes?: number | undefined; readonly directions?: boolean | undefined },
): number {
  const rows = Math.min(MAX_ROWS, (daysOf(request) * DAY_MS) / MINUTE_MS / (request.stepMinutes ?? 1));
  return SKYLINE_POINTS + Math.ceil(rows / (request.directions === true ? DIRECTION_ROWS_A_POINT : ROWS_A_POINT));
}

/** Of a search for alignments, by its years. */
export function alignmentPoints(request: Span): number {
  return SKYLINE_POINTS + Math.ceil((daysOf(request) / YEAR_DAYS) * ALIGNMENTS_POINTS_A_YEAR);
}

/** Of a plan or a forecast. */
export function planPoints({ tideStation }: TideRequest): number {
  return PLAN_POINTS + (tideStation === undefined ? 0 : TIDE_POINTS);
}

/** Of a calendar of light, by its days. */
export function calendarPoints(days = DEFAULT_DAYS): number {
  return SKYLINE_POINTS + Math.ceil(days / 2);
}

/** Of a tide, by its days. */
export function tidePoints(request: Span): number {
  return TIDE_POINTS + Math.ceil(daysOf(request) * TIDE_POINTS_A_DAY);
}
