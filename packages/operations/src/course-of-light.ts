import { DomainError } from "@fieldstop/core/domain-error";
import { type LightCurve, lightCurveFromModel, lightCurveFromSamples } from "@fieldstop/core/exposure";
import { parseInstant, type ZoneClock, zoneClock } from "@fieldstop/core/instants";
import type { Assumption } from "@fieldstop/core/notes";
import { openSkyLightOver } from "@fieldstop/core/sky";
import type { Dependencies } from "./dependencies";
import { type PlaceInput, placeTime } from "./place";

/** The course of the light as a request gives it: by readings, or by sun and moon at a place. */
export interface CourseOfLightRequest {
  /** RFC 3339. */
  readonly instant?: string | undefined;
  readonly readings?: readonly { readonly instant: string; readonly ev100: number }[] | undefined;
  readonly place?: PlaceInput | undefined;
  readonly cloudCover?: Parameters<typeof openSkyLightOver>[3];
  readonly lookAheadMinutes?: number | undefined;
}

/** How the light goes, from when on, and how to write its instants. */
export interface CourseOfLight {
  readonly source: "readings" | "sun-and-moon";
  readonly light: LightCurve;
  readonly startMs: number;
  readonly clock: ZoneClock;
  readonly assumptions: readonly Assumption[];
}

const USUAL_LOOK_AHEAD_MINUTES = 240;
/** Work and memory grow with the span: between readings years apart there is no course of the light to speak of. */
const LONGEST_READINGS_HOURS = 48;

/** The course of the light that a request asks for: by its readings, or by sun and moon at its place. */
export function courseOfLight(dependencies: Dependencies, request: CourseOfLightRequest): CourseOfLight {
  const { place, readings } = request;
  if (readings !== undefined && place !== undefined) {
    throw new DomainError({ param: "place", given: "place and readings", allowed: "readings or place, not both" });
  }
  if (readings !== undefined) return byReadings(request, readings);
  if (place === undefined) throw new DomainError({ param: "readings", given: undefined, allowed: "readings or place" });
  return bySunAndMoon(dependencies, request, place);
}

function byReadings(
  request: CourseOfLightRequest,
  readings: NonNullable<CourseOfLightRequest["readings"]>,
): CourseOfLight {
  for (const field of ["cloudCover", "lookAheadMinutes"] as const) {
    if (request[field] === undefined) continue;
    throw new DomainError({ param: field, given: request[field], allowed: "only with place" });
  }
  const samples = readings.map(({ instant, ev100 }, i) => {
    const instantMs = parseInstant(instant, `readings.${i}.instant`);
    return { instantMs, ev100 };
  });
  samples.forEach(({ instantMs }, i) => {
    if (i === 0 || instantMs > (samples[i - 1] as { instantMs: number }).instantMs) return;
    const allowed = "instants that ascend, no two the same";
    throw new DomainError({ param: `readings.${i}.instant`, given: readings[i]?.instant, allowed });
  });
  const far = samples.findIndex(
    ({ instantMs }) => instantMs - (samples[0]?.instantMs ?? 0) > LONGEST_READINGS_HOURS * 3_600_000,
  );
  if (far >= 0) {
    const allowed = `within ${LONGEST_READINGS_HOURS} hours of the first reading`;
    throw new DomainError({
      code: "impossible",
      param: `readings.${far}.instant`,
      given: readings[far]?.instant,
      allowed,
    });
  }
  const light = lightCurveFromSamples(samples, "readings");
  const startMs = request.instant === undefined ? light.startMs : parseInstant(request.instant);
  const clock = zoneClock(offsetOf(request.instant ?? (readings[0] as { instant: string }).instant));
  return { source: "readings", light, startMs: known(startMs, light, request.instant, clock), clock, assumptions: [] };
}

function bySunAndMoon(
  dependencies: Dependencies,
  request: CourseOfLightRequest,
  place: NonNullable<CourseOfLightRequest["place"]>,
): CourseOfLight {
  const { clock, assumptions } = placeTime(dependencies, place);
  const startMs = request.instant === undefined ? dependencies.nowMs() : parseInstant(request.instant);
  const minutes = request.lookAheadMinutes ?? USUAL_LOOK_AHEAD_MINUTES;
  const endMs = startMs + minutes * 60_000;
  const lightAt = openSkyLightOver(startMs, endMs, place, request.cloudCover);
  const light = lightCurveFromModel((instantMs) => lightAt(instantMs).ev100, startMs, endMs);
  const assumed: Assumption[] = [
    { field: "horizon", value: "open sky", why: "the course of the light is that of level ground under an open sky" },
  ];
  if (request.cloudCover === undefined) {
    assumed.push({ field: "cloudCover", value: "clear", why: "no cloud was given" });
  }
  if (request.lookAheadMinutes === undefined) {
    assumed.push({ field: "lookAheadMinutes", value: minutes, why: "long enough for most evenings" });
  }
  return { source: "sun-and-moon", light, startMs, clock, assumptions: [...assumptions, ...assumed] };
}

/** The start, unless it lies where the light is not known. */
function known(startMs: number, light: LightCurve, instant: string | undefined, clock: ZoneClock): number {
  if (startMs >= light.startMs && startMs < light.endMs) return startMs;
  const allowed = `from ${clock.format(light.startMs)} to before ${clock.format(light.endMs)}, while the light is known`;
  throw new DomainError({ code: "impossible", param: "instant", given: instant, allowed });
}

/** The zone that an instant is written in: its offset, so that the answer is written alike. */
function offsetOf(instant: string): string {
  return /[+-]\d{2}:\d{2}$/.exec(instant)?.[0] ?? "Etc/UTC";
}
