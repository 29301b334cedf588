import { parseInstant } from "@fieldstop/core/instants";
import { caution } from "@fieldstop/core/notes";
import { sunPosition } from "@fieldstop/core/sky";
import { type AskedAir, airAt } from "../places/air";
import type { AskedPlace } from "../places/asked-place";
import { placeTime } from "../places/place-time";
import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";

/** A place, its air, and when. */
export interface SkyAsked extends AskedPlace, AskedAir {
  /** RFC 3339; default now. */
  readonly instant?: string | undefined;
}

/** Where the sun stands. */
export function getSunPosition(surroundings: Surroundings, asked: SkyAsked) {
  const { instant, pressureHPa, temperatureC, ...place } = asked;
  const { timeZone, clock, assumptions } = placeTime(surroundings, place);
  const air = airAt({ pressureHPa, temperatureC }, place.elevationM);
  const instantMs = instant === undefined ? surroundings.nowMs() : parseInstant(instant);
  return rounded({
    instant: clock.format(instantMs),
    ...sunPosition(instantMs, place, air.atmosphere),
    timeZone,
    assumptions: [...assumptions, ...air.assumptions],
    cautions: [caution("sun-through-optics")],
  });
}
