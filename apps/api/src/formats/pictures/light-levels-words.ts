import type { LevelRow } from "@fieldstop/core";

/** A moment of the sun's almanac in the span. */
export interface SunMoment {
  readonly name: "sunrise" | "sunset" | "civil-dawn" | "civil-dusk";
  readonly instant: string;
}

export interface LightLevelsPicture {
  readonly place: { readonly name?: string | undefined; readonly latitude: number; readonly longitude: number };
  readonly timeZone: string;
  readonly stepMinutes: number;
  /** Two at least, in order of time, evenly spaced. */
  readonly rows: readonly LevelRow[];
  readonly moments: readonly SunMoment[];
  /** From and to of each stretch of civil twilight in the span [Unix ms]. */
  readonly civilTwilight: readonly (readonly [number, number])[];
  /** [px], 320 to 2400 */
  readonly width: number;
}

/** Hours and minutes as a clock shows them. */
export const clockTime = (instant: string): string => instant.slice(11, 16);

/** Beam that makes a difference to the ground [stops]. */
const LIT_STOPS = 0.02;

/** Whether the ground is brighter than the shade, for a beam of the sun's or the moon's. */
export const isGroundLit = ({ ev100 }: LevelRow): boolean => ev100.litGround - ev100.openShade > LIT_STOPS;

type Run = readonly [LevelRow, LevelRow];

/** The first and the last of each run of rows in direct light. */
export const litRuns = (rows: readonly LevelRow[]): Run[] => runsOf(rows, ({ directLight }) => directLight);

/** Likewise of rows whose ground the moon lights, the sun being gone. */
export const moonlitRuns = (rows: readonly LevelRow[]): Run[] =>
  runsOf(rows, (row) => row.directMoonlight === true && !row.directLight && isGroundLit(row));

function runsOf(rows: readonly LevelRow[], holds: (row: LevelRow) => boolean): Run[] {
  const runs: [LevelRow, LevelRow][] = [];
  let running = false;
  for (const row of rows) {
    const run = runs.at(-1);
    if (!holds(row)) running = false;
    else if (running && run !== undefined) run[1] = row;
    else {
      runs.push([row, row]);
      running = true;
    }
  }
  return runs;
}

/** A number of stops with its sign, as it is said of a contrast. */
export function signedStops(stops: number): string {
  const tenths = Math.abs(stops).toFixed(1);
  if (Number(tenths) === 0) return "0.0";
  return `${stops < 0 ? "−" : "+"}${tenths}`;
}

/** The span in phrases, the weightiest first. */
export function summaryOf({ rows }: LightLevelsPicture): string[] {
  const strongest = rows.reduce((a, b) => (b.contrastStops > a.contrastStops ? b : a));
  return [
    `Sky over ground at most ${signedStops(strongest.contrastStops)} stops, ${clockTime(strongest.instant)}`,
    directLightOf(rows),
  ];
}

const timesOf = (runs: readonly Run[]): string =>
  runs.map(([first, last]) => `${clockTime(first.instant)}–${clockTime(last.instant)}`).join(", ");

function directLightOf(rows: readonly LevelRow[]): string {
  const runs = litRuns(rows);
  return runs.length === 0 ? "no direct light" : `direct light ${timesOf(runs)}`;
}

/** How far the levels may be off over the span. */
export function uncertaintyOf({ rows }: LightLevelsPicture): string {
  const all = rows.map(({ uncertaintyStops }) => uncertaintyStops);
  const [least, most] = [Math.min(...all).toFixed(1), Math.max(...all).toFixed(1)];
  return `${least === most ? "" : `${least} to `}${most} stops`;
}

export function titleOf({ place, rows }: LightLevelsPicture): string {
  const [first, last] = [rows[0], rows.at(-1)] as [LevelRow, LevelRow];
  return `Light at ${place.name ?? "a place"}, ${first.instant.slice(0, 10)}, ${clockTime(first.instant)} to ${clockTime(last.instant)}`;
}

/** The picture in words, for those who do not see it. */
export function describeLevels(picture: LightLevelsPicture): string {
  const { rows, moments, timeZone, stepMinutes } = picture;
  const said = [rows[0], rows[Math.floor((rows.length - 1) / 2)], rows.at(-1)] as LevelRow[];
  const levels = said.map(({ instant, ev100: { sky, litGround, openShade, stillWater }, contrastStops }) => {
    const parts = `sky ${sky.toFixed(1)}, lit ground ${litGround.toFixed(1)}, open shade ${openShade.toFixed(1)}, still water ${stillWater.toFixed(1)}`;
    return `At ${clockTime(instant)}: ${parts} EV100, the sky ${signedStops(contrastStops)} stops over the ground.`;
  });
  const events = moments.map(({ name, instant }) => `${spoken(name)} at ${clockTime(instant)}`);
  const moonlit = moonlitRuns(rows);
  const moon = moonlit.length === 0 ? "" : ` Moonlight on the ground ${timesOf(moonlit)}.`;
  const almanac = events.length === 0 ? "" : ` ${sentence(events.join(", "))}.`;
  return `How bright sky, lit ground, open shade and still water are against local time. ${levels.join(" ")} ${sentence(directLightOf(rows))}, to a step of ${stepMinutes} min.${moon}${almanac} Times of ${timeZone}; levels may be off by ${uncertaintyOf(picture)}.`;
}

export const spoken = (name: SunMoment["name"]): string => name.replace("-", " ");

export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
