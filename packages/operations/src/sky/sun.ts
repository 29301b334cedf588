import { parseInstant } from "@fieldstop/core/instants";
import { caution } from "@fieldstop/core/notes";
import { sunPosition } from "@fieldstop/core/sky";
import type { Dependencies } from "../dependencies";
import { type AirInput, airAt } from "../places/air";
import type { PlaceInput } from "../places/place-input";
import { placeTime } from "../places/place-time";
import { rounded } from "../rounding";

/** A place, its air, and when. */
export interface SkyRequest extends PlaceInput, AirInput {
  /** RFC 3339; default now. */
  readonly instant?: string | undefined;
}

/** Where the sun stands. */
export function getSunPosition(dependencies: Dependencies, request: SkyRequest) {
  const { instant, pressureHPa, temperatureC, ...place } = request;
  const { timeZone, clock, assumptions } = placeTime(dependencies, place);
  const air = airAt({ pressureHPa, temperatureC }, place.elevationM);
  const instantMs = instant === undefined ? dependencies.nowMs() : parseInstant(instant);
  return rounded({
    instant: clock.format(instantMs),
    ...sunPosition(instantMs, place, air.atmosphere),
    timeZone,
    assumptions: [...assumptions, ...air.assumptions],
    cautions: [caution("sun-through-optics")],
  });
}
