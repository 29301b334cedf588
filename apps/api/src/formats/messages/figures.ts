/** Hours and minutes as a clock of the place shows them. */
export const clockTime = (instant: string): string => instant.slice(11, 16);

const POINTS = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"] as const;

/** The nearest of the eight points of the compass. */
export function compassPoint(azimuthDeg: number): string {
  return POINTS[Math.round(azimuthDeg / 45) % 8] as string;
}

/** A number with its sign as it is printed, zero without one. */
export function withMinus(value: number, decimals: number): string {
  const digits = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(digits) !== 0 ? `−${digits}` : digits;
}

export const metres = (heightM: number): string => `${withMinus(heightM, 1)} m`;

export function minutesText(minutes: number): string {
  return `${minutes} ${minutes === 1 ? "minute" : "minutes"}`;
}

/** One thing after another: "a, b and c". */
export function listOf(things: readonly string[]): string {
  return things.length < 2 ? things.join("") : `${things.slice(0, -1).join(", ")} and ${things.at(-1)}`;
}

const THIRDS = ["", "1/3", "2/3"] as const;

/** A step of a bracket as cameras mark it. */
export function stopsApart(stepStops: number): string {
  const whole = Math.floor(stepStops + 1e-6);
  const third = THIRDS[Math.round((stepStops - whole) * 3)];
  const marked = Math.abs(stepStops * 3 - Math.round(stepStops * 3)) < 1e-6 && third !== undefined;
  const text = marked ? [whole === 0 ? "" : String(whole), third].filter(Boolean).join(" ") : stepStops.toFixed(1);
  return `${text} ${stepStops > 1 ? "stops" : "stop"} apart`;
}

const DAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"] as const;

/** The day of the week of an instant, as the clock of the place has it. */
export function weekday(instant: string): string {
  return DAYS[new Date(`${instant.slice(0, 10)}T00:00:00Z`).getUTCDay()] as string;
}

/** The time of an instant, with its day where that is not the session's own. */
export function timeOn(instant: string, date: string): string {
  const time = clockTime(instant);
  return instant.startsWith(date) ? time : `${time} on ${weekday(instant)}`;
}
