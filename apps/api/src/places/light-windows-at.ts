import { addDays, findLightWindows, type LightWindows, type Subject } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import type { LightWindowsInput } from "../schemas/light-windows";
import type { Services } from "../services";
import { resolveHorizon } from "./resolve-horizon";
import { placeTime } from "./resolve-place";

type Asked = z.output<typeof LightWindowsInput>;

/** The light windows that a request asks for, with terrain looked up for the camera and, where it stands elsewhere, for the subject. */
export async function lightWindowsAt(services: Services, asked: Asked): Promise<LightWindows> {
  const { place } = asked;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const date = asked.date ?? clock.dateAt(services.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const { horizon, groundElevationM, assumptions: ofHorizon } = await resolveHorizon(services, place, asked.horizon);
  const light = findLightWindows({
    place: { ...place, elevationM: place.elevationM ?? groundElevationM },
    date,
    timeZone,
    horizon,
    subject: await resolveSubject(services, asked),
  });
  return { ...light, assumptions: [...assumptions, ...ofHorizon, ...light.assumptions] };
}

/** The subject with its own skyline, where it has a place of its own and no skyline was given for the whole. */
export async function resolveSubject(
  services: Services,
  { place, subject, horizon }: Pick<Asked, "place" | "subject" | "horizon">,
): Promise<Subject | undefined> {
  if (subject === undefined) return undefined;
  const elsewhere = subject.latitude !== undefined && subject.longitude !== undefined;
  if (!elsewhere || (horizon !== undefined && horizon.kind !== "terrain")) return subject;
  const where = {
    latitude: subject.latitude ?? place.latitude,
    longitude: subject.longitude ?? place.longitude,
    eyeHeightM: place.eyeHeightM,
  };
  const resolved = await resolveHorizon(services, where, horizon);
  return { ...subject, horizon: resolved.horizon };
}
