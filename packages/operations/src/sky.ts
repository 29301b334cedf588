import { parseInstant } from "@fieldstop/core/instants";
import { type Caution, caution } from "@fieldstop/core/notes";
import { dewPoint, moonPhase, moonPosition, sunPosition } from "@fieldstop/core/sky";
import type { Dependencies } from "./dependencies";
import { type AirInput, airAt, type PlaceInput, placeTime } from "./place";
import { rounded } from "./rounding";

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

/** The air round a lens. */
export interface DewPointRequest {
  readonly temperatureC: number;
  /** [%] */
  readonly relativeHumidity: number;
  /** Of the glass; default: of the air. */
  readonly lensTemperatureC?: number | undefined;
}

/** Whether a lens will fog. */
export function getDewPoint({ temperatureC, relativeHumidity, lensTemperatureC }: DewPointRequest) {
  const glassC = lensTemperatureC ?? temperatureC;
  const why = "taken from the air; under an open sky glass cools a few degrees below it";
  return rounded(
    Object.assign({}, dewPoint(temperatureC, relativeHumidity, glassC), {
      lensTemperatureC: glassC,
      assumptions: lensTemperatureC === undefined ? [{ field: "lensTemperatureC", value: glassC, why }] : [],
    }),
  );
}
