import { addDays, findLightWindows, type Horizon, type LightWindows, localDay, sunTrack } from "@fieldstop/core";
import { type PlaceInput, placeTime, skylineAt } from "@fieldstop/operations";
import { drawHorizonStrip, SUN_PATH_STEP_MS } from "../../formats/pictures/horizon-strip";
import type { Services } from "../../services";

interface StripInput extends PlaceInput {
  readonly date?: string | undefined;
  readonly horizon?: { readonly kind: Exclude<Horizon["kind"], "profile"> } | undefined;
  /** [px] */
  readonly width?: number | undefined;
}

const USUAL_WIDTH_PX = 1200;
const HOUR_MS = 3_600_000;

export interface HorizonStrip {
  readonly markup: string;
  /** What is drawn. */
  readonly light: LightWindows;
}

/** The skyline of a place with the sun's path of one day, as a picture. */
export async function horizonStripAt(services: Services, input: StripInput): Promise<HorizonStrip> {
  const { date: requestedDate, horizon, width = USUAL_WIDTH_PX, ...place } = input;
  const { timeZone, clock } = placeTime(services, place);
  const date = requestedDate ?? clock.dateAt(services.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const skyline = await skylineAt(services, place, horizon);
  const seenFrom = { ...place, elevationM: place.elevationM ?? skyline.groundElevationM };
  const light = findLightWindows({ place: seenFrom, date, timeZone, horizon: skyline.horizon });
  const { startMs, endMs } = localDay(date, timeZone);
  const track = sunTrack(startMs, endMs, seenFrom);
  const at = (instantMs: number) => ({ instantMs, ...track(instantMs) });
  const steps = Math.ceil((endMs - startMs) / SUN_PATH_STEP_MS);
  const hours = Math.ceil((endMs - startMs) / HOUR_MS);
  const markup = drawHorizonStrip({
    light,
    profile: skyline.profile,
    sunPath: Array.from({ length: steps + 1 }, (_, i) => at(Math.min(endMs, startMs + i * SUN_PATH_STEP_MS))),
    hours: Array.from({ length: hours }, (_, i) => at(startMs + i * HOUR_MS)).map((point) => ({
      ...point,
      hour: Number(clock.format(point.instantMs).slice(11, 13)),
    })),
    width,
  });
  return { markup, light };
}
