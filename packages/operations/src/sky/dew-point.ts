import { dewPoint } from "@fieldstop/core/sky";
import { rounded } from "../rounding";

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
