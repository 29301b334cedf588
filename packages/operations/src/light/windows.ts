import type { Dependencies } from "../dependencies";
import type { AirInput } from "../places/air";
import type { PlaceInput } from "../places/place-input";
import { rounded } from "../rounding";
import { type LightWindowsRequest, lightWindowsAt } from "./light-windows-at";

/** A place, its air and a local day, as a query gives them. */
export interface LightWindowsQueried extends PlaceInput, AirInput {
  readonly date?: string | undefined;
  readonly horizon?: "terrain" | "flat" | undefined;
}

/** When the light comes and goes on one day, asked by a query. */
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
