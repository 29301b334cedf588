import { requireInRange } from "../domain-error";

// Magnus formula over water, -45 to 60 °C: Sonntag 1990, Z. Meteorol. 70:340 (WMO No. 8, annex 4.B): 17.62 and 243.12 °C
const MAGNUS_SLOPE = 17.62;
const MAGNUS_OFFSET_C = 243.12;

/** How near glass in the open is to fogging: our own steps of the dew-point spread, after common practice. */
export type FogRisk = "low" | "possible" | "likely";

export interface DewPoint {
  /** Temperature at which dew forms [°C]. */
  readonly dewPointC: number;
  /** How far the glass is above it [°C]; negative where dew forms on it. */
  readonly spreadC: number;
  readonly fogRisk: FogRisk;
}

// Common practice: glass under an open sky cools some two degrees below the air, so dew starts with the spread still above zero
const LIKELY_BELOW_C = 1;
const POSSIBLE_BELOW_C = 3;

/**
 * Compute the dew point of the air, and whether a lens will fog.
 * @param temperatureC of the air [°C], -45 to 60
 * @param relativeHumidity [%], 1 to 100
 * @param lensTemperatureC of the glass [°C], -45 to 60; default that of the air
 * @returns dew point [°C], spread [°C] and the risk of fog
 * @throws DomainError out of range
 * Source: Magnus formula with the constants of Sonntag 1990. Accuracy: dew point within 0.1 °C of the formula's own fit; held in
 * tests/core/sky/dew-point.spec.ts.
 * @example dewPoint(10, 80).dewPointC // 6.71
 */
export function dewPoint(temperatureC: number, relativeHumidity: number, lensTemperatureC = temperatureC): DewPoint {
  requireInRange("temperatureC", temperatureC, -45, 60, "°C");
  requireInRange("relativeHumidity", relativeHumidity, 1, 100, "%");
  requireInRange("lensTemperatureC", lensTemperatureC, -45, 60, "°C");
  const gamma = Math.log(relativeHumidity / 100) + (MAGNUS_SLOPE * temperatureC) / (MAGNUS_OFFSET_C + temperatureC);
  const dewPointC = (MAGNUS_OFFSET_C * gamma) / (MAGNUS_SLOPE - gamma);
  const spreadC = lensTemperatureC - dewPointC;
  const fogRisk = spreadC < LIKELY_BELOW_C ? "likely" : spreadC < POSSIBLE_BELOW_C ? "possible" : "low";
  return { dewPointC, spreadC, fogRisk };
}
