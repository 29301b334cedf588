import { parseInstant } from "@fieldstop/core/instants";
import type { Caution } from "@fieldstop/core/notes";
import { moonPhase, moonPosition } from "@fieldstop/core/sky";
import { airAt } from "../places/air";
import { placeTime } from "../places/place-time";
import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import type { SkyAsked } from "./sun";

/** Where the moon stands, and how much of it is lit. */
export function getMoonPosition(surroundings: Surroundings, asked: SkyAsked) {
  const { instant, pressureHPa, temperatureC, ...place } = asked;
  const { timeZone, clock, assumptions } = placeTime(surroundings, place);
  const air = airAt({ pressureHPa, temperatureC }, place.elevationM);
  const instantMs = instant === undefined ? surroundings.nowMs() : parseInstant(instant);
  const cautions: Caution[] = [];
  return rounded({
    instant: clock.format(instantMs),
    ...moonPosition(instantMs, place, air.atmosphere),
    ...moonPhase(instantMs),
    timeZone,
    assumptions: [...assumptions, ...air.assumptions],
    cautions,
  });
}
