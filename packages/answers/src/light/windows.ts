import type { AskedAir } from "../places/air";
import type { AskedPlace } from "../places/asked-place";
import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type LightWindowsAsked, lightWindowsAt } from "./light-windows-at";

/** A place, its air and a local day, as a query gives them. */
export interface LightWindowsQueried extends AskedPlace, AskedAir {
  readonly date?: string | undefined;
  readonly horizon?: "terrain" | "flat" | undefined;
}

/** When the light comes and goes on one day, asked by a query. */
export function findLightWindows(surroundings: Surroundings, asked: LightWindowsQueried) {
  const { date, horizon, pressureHPa, temperatureC, ...place } = asked;
  return findLightWindowsFromBody(surroundings, {
    place,
    date,
    horizon: horizon && { kind: horizon },
    atmosphere: { pressureHPa, temperatureC },
  });
}

/** The same with a skyline of one's own, or a subject that has its own place and faces one way. */
export async function findLightWindowsFromBody(surroundings: Surroundings, asked: LightWindowsAsked) {
  return rounded(await lightWindowsAt(surroundings, asked));
}
