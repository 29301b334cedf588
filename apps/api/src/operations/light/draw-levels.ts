import {
  CIVIL_TWILIGHT_DEG,
  DomainError,
  dayEvents,
  parseInstant,
  sunriseAltitudeDeg,
  sunTrack,
  zoneClock,
} from "@fieldstop/core";
import type { lightLevels } from "@fieldstop/operations";
import { drawLightLevels } from "../../formats/pictures/light-levels-picture";
import type { SunMoment } from "../../formats/pictures/light-levels-words";

/** Beyond that a picture of minutes shows none. */
const LONGEST_MS = 48 * 3_600_000;
const SHOWN: ReadonlySet<string> = new Set(["sunrise", "sunset", "civil-dawn", "civil-dusk"]);

/**
 * Draw light levels as a picture.
 * @param width [px], 320 to 2400
 * @throws DomainError for a span of less than one step
 */
export function drawLevels(levels: ReturnType<typeof lightLevels>, width: number): string {
  const { place, timeZone, stepMinutes, rows } = levels;
  if (rows.length < 2) {
    const [param, given] = levels.from === levels.to ? ["to", levels.to] : ["stepMinutes", stepMinutes];
    throw new DomainError({ code: "impossible", param, given, allowed: "a span of one step at least" });
  }
  // what is drawn ends at the last row
  const startMs = Date.parse(levels.from);
  const endMs = Date.parse((rows.at(-1) as (typeof rows)[number]).instant);
  const clock = zoneClock(timeZone);
  const events = dayEvents(startMs, endMs, place, place.eyeHeightM).events.filter(({ name }) => SHOWN.has(name));
  const sun = sunTrack(startMs, endMs, place);
  const upperDeg = sunriseAltitudeDeg(place.eyeHeightM);
  const cuts = [startMs, ...events.map(({ instantMs }) => instantMs), endMs];
  const civilTwilight = cuts.slice(1).flatMap((to, i) => {
    const from = cuts[i] as number;
    const altitudeDeg = sun((from + to) / 2).trueAltitudeDeg;
    return altitudeDeg > CIVIL_TWILIGHT_DEG && altitudeDeg < upperDeg ? [[from, to] as const] : [];
  });
  const moments = events.map(({ name, instantMs }) => ({
    name: name as SunMoment["name"],
    instant: clock.format(Math.round(instantMs / 1000) * 1000),
  }));
  return drawLightLevels({ place, timeZone, stepMinutes, rows, moments, civilTwilight, width });
}

/**
 * Refuse a span that no picture can show, before any terrain is read.
 * @throws DomainError
 */
export function refuseLongSpan({
  from,
  to,
}: {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}): void {
  if (from === undefined || to === undefined) return;
  if (parseInstant(to, "to") - parseInstant(from, "from") <= LONGEST_MS) return;
  const allowed = "within 48 hours of from for a picture";
  throw new DomainError({ code: "impossible", param: "to", given: to, allowed });
}
