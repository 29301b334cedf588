import { traceLightLevels } from "@fieldstop/answers";
import {
  CIVIL_TWILIGHT_DEG,
  DomainError,
  dayEvents,
  parseInstant,
  sunriseAltitudeDeg,
  sunTrack,
  zoneClock,
} from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import { drawLightLevels } from "../../formats/pictures/light-levels-picture";
import type { SunMoment } from "../../formats/pictures/light-levels-words";
import type { Services } from "../../services";
import type { LightLevelsInput, LightLevelsPictureInput } from "./light-levels.schema";

type Asked = z.output<typeof LightLevelsPictureInput> | z.output<typeof LightLevelsInput>;

const USUAL_WIDTH_PX = 1200;
/** Beyond that a picture of minutes shows none. */
const LONGEST_MS = 48 * 3_600_000;
const SHOWN: ReadonlySet<string> = new Set(["sunrise", "sunset", "civil-dawn", "civil-dusk"]);

/** The light over the span that a request asks for, as a picture. */
export async function lightLevelsPictureAt(services: Services, asked: Asked): Promise<string> {
  const { width = USUAL_WIDTH_PX, ...wanted } = { width: undefined, ...asked, directions: undefined };
  refuseLongSpan(asked);
  const levels = await traceLightLevels(services, wanted);
  const { place, timeZone, stepMinutes, rows } = levels;
  if (rows.length < 2) {
    const [param, given] =
      asked.from === asked.to && asked.to !== undefined ? ["to", asked.to] : ["stepMinutes", stepMinutes];
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
  const asPicture = {
    place,
    timeZone,
    stepMinutes,
    rows,
    moments: events.map(({ name, instantMs }) => ({
      name: name as SunMoment["name"],
      instant: clock.format(Math.round(instantMs / 1000) * 1000),
    })),
    civilTwilight,
    width,
  };
  return drawLightLevels(asPicture, services.signal);
}

/** Before any terrain is read. */
function refuseLongSpan({ from, to }: Asked): void {
  if (from === undefined || to === undefined) return;
  if (parseInstant(to, "to") - parseInstant(from, "from") <= LONGEST_MS) return;
  const allowed = "within 48 hours of from for a picture";
  throw new DomainError({ code: "impossible", param: "to", given: to, allowed });
}
