import { addDays } from "@fieldstop/core/instants";
import {
  type LightWindowsRequest as CoreLightWindowsRequest,
  type LightWindows,
  type Subject,
  findLightWindows as windowsOfDay,
} from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import type { Dependencies } from "./dependencies";
import { type HorizonInput, resolveHorizon } from "./horizon";
import { type AirInput, type PlaceInput, placeTime } from "./place";
import { rounded } from "./rounding";

/** A place, its air and a local day, as a query gives them. */
export interface LightWindowsQueried extends PlaceInput, AirInput {
  readonly date?: string | undefined;
  readonly horizon?: "terrain" | "flat" | undefined;
}

/** Find when the light comes and goes on one day, from the fields of a query. */
export function findLightWindows(dependencies: Dependencies, request: LightWindowsQueried) {
  const { date, horizon, pressureHPa, temperatureC, ...place } = request;
  return findLightWindowsFromBody(dependencies, {
    place,
    date,
    horizon: horizon && { kind: horizon },
    atmosphere: { pressureHPa, temperatureC },
  });
}

/** The same with a skyline of one's own, or a subject that has its own place and faces one way. */
export async function findLightWindowsFromBody(dependencies: Dependencies, request: LightWindowsRequest) {
  return rounded(await lightWindowsAt(dependencies, request));
}

/** A place and a local day there; default today. */
export interface LightWindowsRequest {
  readonly place: PlaceInput;
  readonly date?: string | undefined;
  readonly horizon?: HorizonInput | undefined;
  readonly subject?: Omit<Subject, "horizon"> | undefined;
  readonly atmosphere?: CoreLightWindowsRequest["atmosphere"];
  readonly bounds?: CoreLightWindowsRequest["bounds"];
}

/** All that the light of a day at a place takes, as plain data. Good for any number of days. */
export interface LightWindowsInput {
  readonly request: Omit<CoreLightWindowsRequest, "date">;
  /** The requested day. */
  readonly date: string;
  /** Of the zone and the skyline, said first. */
  readonly ofPlace: readonly Assumption[];
  /** Of the subject's own skyline, said last. */
  readonly ofSubject: readonly Assumption[];
}

/** Look up what light windows need: the zone, and terrain for the camera and, where it stands elsewhere, for the subject. */
export async function lightWindowsInput(
  dependencies: Dependencies,
  request: LightWindowsRequest,
): Promise<LightWindowsInput> {
  const { place, atmosphere, bounds } = request;
  const { timeZone, clock, assumptions } = placeTime(dependencies, place);
  const date = request.date ?? clock.dateAt(dependencies.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const found = await resolveHorizon(dependencies, place, request.horizon);
  const ofSubject: Assumption[] = [];
  return {
    request: {
      place: Object.assign({}, place, { elevationM: place.elevationM ?? found.groundElevationM }),
      timeZone,
      horizon: found.horizon,
      subject: await resolveSubject(dependencies, request, ofSubject),
      atmosphere,
      bounds,
    },
    date,
    ofPlace: [...assumptions, ...found.assumptions],
    ofSubject,
  };
}

/**
 * Find the light windows of a day, from plain data alone.
 * @param date local calendar day, YYYY-MM-DD; default: the requested day
 */
export function lightWindows(input: LightWindowsInput, date = input.date): LightWindows {
  const { request, ofPlace, ofSubject } = input;
  const light = windowsOfDay(Object.assign({}, request, { date }));
  // where there is no terrain for the place, that is the better reason for a level horizon
  const ofLight = light.assumptions.filter(({ field }) => !ofPlace.some((said) => said.field === field));
  return { ...light, assumptions: [...ofPlace, ...ofLight, ...ofSubject] };
}

/** The light windows that a request asks for. */
export async function lightWindowsAt(dependencies: Dependencies, request: LightWindowsRequest): Promise<LightWindows> {
  return lightWindows(await lightWindowsInput(dependencies, request));
}

/**
 * The subject with its own skyline, where it has a place of its own and no skyline was given for the whole. What its skyline
 * rests on is added to `assumptions`: the answer reports the camera's alone.
 */
export async function resolveSubject(
  dependencies: Dependencies,
  { place, subject, horizon }: Pick<LightWindowsRequest, "place" | "subject" | "horizon">,
  assumptions: Assumption[] = [],
): Promise<Subject | undefined> {
  if (subject?.latitude === undefined || subject.longitude === undefined) return subject;
  if (horizon !== undefined && horizon.kind !== "terrain") return subject;
  const { latitude, longitude } = subject;
  const resolved = await resolveHorizon(dependencies, { latitude, longitude, eyeHeightM: place.eyeHeightM }, horizon);
  for (const { field, value, why } of resolved.assumptions) {
    if (field === "horizon") assumptions.push({ field: "subject.horizon", value, why });
  }
  const missing = resolved.horizon.missingTiles ?? [];
  if (missing.length > 0) {
    const names = missing.map(({ name }) => name).join(", ");
    assumptions.push({ field: "subject.horizon", value: resolved.horizon.kind, why: `without the tiles ${names}` });
  }
  return Object.assign({}, subject, { horizon: resolved.horizon });
}
