import { dayEvents } from "@fieldstop/core/almanac";
import { DomainError } from "@fieldstop/core/domain-error";
import { localDay, parseInstant } from "@fieldstop/core/instants";
import { type CourseOfLight, type CourseOfLightRequest, courseOfLight } from "./course-of-light";
import type { Dependencies } from "./dependencies";
import { placeTime } from "./place";

/** The light that filters are chosen by. */
export interface SelectionLightRequest extends CourseOfLightRequest {
  /** A local day at the place, looked at as a whole. */
  readonly date?: string | undefined;
  readonly aperture?: number | undefined;
  readonly iso?: number | undefined;
}

const ONLY_WITH_LIGHT = ["instant", "date", "cloudCover", "lookAheadMinutes"] as const;

/** How the light goes while filters are chosen: by readings, by a place from an instant on, or over the whole of a local day there; or not at all. */
export function lightToSelectBy(dependencies: Dependencies, request: SelectionLightRequest): CourseOfLight | undefined {
  const { place, readings, date, aperture, iso } = request;
  if (place === undefined && readings === undefined) {
    for (const param of ONLY_WITH_LIGHT) {
      if (request[param] === undefined) continue;
      throw new DomainError({ param, given: request[param], allowed: "only with place or readings" });
    }
    return undefined;
  }
  if (aperture === undefined || iso === undefined) {
    const param = aperture === undefined ? "aperture" : "iso";
    const allowed = "aperture and iso, where the light is given by place or readings";
    throw new DomainError({ param, given: undefined, allowed });
  }
  const { instant, cloudCover, lookAheadMinutes } = request;
  if (date === undefined) {
    return courseOfLight(dependencies, { place, readings, instant, cloudCover, lookAheadMinutes });
  }
  if (place === undefined) throw new DomainError({ param: "date", given: date, allowed: "only with place" });
  if (lookAheadMinutes !== undefined) {
    const allowed = "lookAheadMinutes or date, not both";
    throw new DomainError({ param: "lookAheadMinutes", given: lookAheadMinutes, allowed });
  }
  return overDay(dependencies, request, place, date);
}

function overDay(
  dependencies: Dependencies,
  { instant, cloudCover, readings }: SelectionLightRequest,
  place: NonNullable<SelectionLightRequest["place"]>,
  date: string,
): CourseOfLight {
  const { timeZone, clock } = placeTime(dependencies, place);
  const { startMs, endMs } = localDay(date, timeZone);
  const course = courseOfLight(dependencies, {
    place,
    readings,
    instant: clock.format(startMs),
    cloudCover,
    lookAheadMinutes: (endMs - startMs) / 60_000,
  });
  if (instant !== undefined) {
    const atMs = parseInstant(instant);
    if (atMs >= startMs && atMs < endMs) return { ...course, startMs: atMs };
    throw new DomainError({ param: "instant", given: instant, allowed: `an instant of ${date} at the place` });
  }
  const { events } = dayEvents(startMs, endMs, place);
  const { name, instantMs } = events.find((event) => event.name === "sunset") ??
    events.find((event) => event.name === "solar-noon") ?? { name: "start of the day", instantMs: startMs };
  const why = `choices are ranked for the ${name.replace("-", " ")} of the day`;
  const assumption = { field: "instant", value: clock.format(instantMs), why };
  return { ...course, startMs: instantMs, assumptions: [...course.assumptions, assumption] };
}
