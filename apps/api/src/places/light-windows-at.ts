import { type Assumption, addDays, findLightWindows, type LightWindows, type Subject } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import type { LightWindowsInput } from "../schemas/light-windows";
import type { Services } from "../services";
import { resolveHorizon } from "./resolve-horizon";
import { placeTime } from "./resolve-place";

type Asked = z.output<typeof LightWindowsInput>;

/** The light windows that a request asks for, with terrain looked up for the camera and, where it stands elsewhere, for the subject. */
export async function lightWindowsAt(services: Services, asked: Asked): Promise<LightWindows> {
  const { place, atmosphere, bounds } = asked;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const date = asked.date ?? clock.dateAt(services.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const { horizon, groundElevationM, assumptions: ofHorizon } = await resolveHorizon(services, place, asked.horizon);
  const ofSubject: Assumption[] = [];
  const light = findLightWindows({
    place: { ...place, elevationM: place.elevationM ?? groundElevationM },
    date,
    timeZone,
    horizon,
    subject: await resolveSubject(services, asked, ofSubject),
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
  services: Services,
  { place, subject, horizon }: Pick<Asked, "place" | "subject" | "horizon">,
  assumptions: Assumption[] = [],
): Promise<Subject | undefined> {
  if (subject?.latitude === undefined || subject.longitude === undefined) return subject;
  if (horizon !== undefined && horizon.kind !== "terrain") return subject;
  const { latitude, longitude } = subject;
  const resolved = await resolveHorizon(services, { latitude, longitude, eyeHeightM: place.eyeHeightM }, horizon);
  for (const { field, value, why } of resolved.assumptions) {
    if (field === "horizon") assumptions.push({ field: "subject.horizon", value, why });
  }
  const missing = resolved.horizon.missingTiles ?? [];
  if (missing.length > 0) {
    const names = missing.map(({ name }) => name).join(", ");
    assumptions.push({ field: "subject.horizon", value: resolved.horizon.kind, why: `without the tiles ${names}` });
  }
  return { ...subject, horizon: resolved.horizon };
}
