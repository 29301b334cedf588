import { parseInstant } from "@fieldstop/core/instants";
import type { Caution } from "@fieldstop/core/notes";
import { moonPhase, moonPosition } from "@fieldstop/core/sky";
import type { Dependencies } from "../dependencies";
import { airAt } from "../places/air";
import { placeTime } from "../places/place-time";
import { rounded } from "../rounding";
import type { SkyRequest } from "./sun";

/** Where the moon stands, and how much of it is lit. */
export function getMoonPosition(dependencies: Dependencies, request: SkyRequest) {
  const { instant, pressureHPa, temperatureC, ...place } = request;
  const { timeZone, clock, assumptions } = placeTime(dependencies, place);
  const air = airAt({ pressureHPa, temperatureC }, place.elevationM);
  const instantMs = instant === undefined ? dependencies.nowMs() : parseInstant(instant);
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
