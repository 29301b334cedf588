import { addDays } from "@fieldstop/core/instants";
import { findLightWindows, type LightWindows, type LightWindowsRequest, type Subject } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import type { AskedHorizon } from "../places/asked-horizon";
import type { AskedPlace } from "../places/asked-place";
import { placeTime } from "../places/place-time";
import { resolveHorizon } from "../places/resolve-horizon";
import type { Surroundings } from "../surroundings";

/** A place and a local day there; default today. */
export interface LightWindowsAsked {
  readonly place: AskedPlace;
  readonly date?: string | undefined;
  readonly horizon?: AskedHorizon | undefined;
  readonly subject?: Omit<Subject, "horizon"> | undefined;
  readonly atmosphere?: LightWindowsRequest["atmosphere"];
  readonly bounds?: LightWindowsRequest["bounds"];
}

type Asked = LightWindowsAsked;

/** The light windows that a request asks for, with terrain looked up for the camera and, where it stands elsewhere, for the subject. */
export async function lightWindowsAt(surroundings: Surroundings, asked: Asked): Promise<LightWindows> {
  const { place, atmosphere, bounds } = asked;
  const { timeZone, clock, assumptions } = placeTime(surroundings, place);
  const date = asked.date ?? clock.dateAt(surroundings.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const {
    horizon,
    groundElevationM,
    assumptions: ofHorizon,
  } = await resolveHorizon(surroundings, place, asked.horizon);
  const ofSubject: Assumption[] = [];
  const light = findLightWindows({
    place: Object.assign({}, place, { elevationM: place.elevationM ?? groundElevationM }),
    date,
    timeZone,
    horizon,
    subject: await resolveSubject(surroundings, asked, ofSubject),
    atmosphere,
    bounds,
  });
  // where there is no terrain for the place, that is the better reason for a level horizon
  const ofLight = light.assumptions.filter(({ field }) => !ofHorizon.some((said) => said.field === field));
  return { ...light, assumptions: [...assumptions, ...ofHorizon, ...ofLight, ...ofSubject] };
}

/**
 * The subject with its own skyline, where it has a place of its own and no skyline was given for the whole. What its skyline
 * rests on is added to `assumptions`: the answer reports the camera's alone.
 */
export async function resolveSubject(
  surroundings: Surroundings,
  { place, subject, horizon }: Pick<Asked, "place" | "subject" | "horizon">,
  assumptions: Assumption[] = [],
): Promise<Subject | undefined> {
  if (subject?.latitude === undefined || subject.longitude === undefined) return subject;
  if (horizon !== undefined && horizon.kind !== "terrain") return subject;
  const { latitude, longitude } = subject;
  const resolved = await resolveHorizon(surroundings, { latitude, longitude, eyeHeightM: place.eyeHeightM }, horizon);
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
