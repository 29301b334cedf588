import { requireInRange } from "../domain-error";

/** The air that light passes through. */
export interface Atmosphere {
  /** Pressure at the place, not reduced to sea level [hPa]; default 1010. */
  readonly pressureHPa?: number;
  /** [°C]; default 10. */
  readonly temperatureC?: number;
}

// Sæmundsson 1986, Sky and Telescope 72:70 (Meeus 1998, Astronomical Algorithms, eq. 16.4), for 1010 hPa and 10 °C:
// R = 1.02′ / tan(h + 10.3 / (h + 5.11)), h the airless altitude in degrees
const SAEMUNDSSON_ARCMIN = 1.02;
const STANDARD_PRESSURE_HPA = 1010;
const STANDARD_TEMPERATURE_C = 10;
/** The formula is for bodies above the horizon; below this it is held, as it means nothing there. */
const HELD_BELOW_DEG = -1;
const RADIANS = Math.PI / 180;

/**
 * How far the air lifts a body that stands at an airless altitude.
 * @param trueAltitudeDeg airless altitude [deg], -90 to 90; below -1 the value at -1 is held
 * @param atmosphere pressure [hPa] 300 to 1100, temperature [°C] -90 to 60
 * @returns [deg]
 * @throws DomainError for an atmosphere out of range
 * Source: Sæmundsson 1986; pressure and temperature after Meeus 1998, ch. 16. Accuracy: 0.07′ against Bennett above the horizon;
 * near the horizon real air differs by 0.02 to 0.05°. Held by the golden rows `refr`.
 */
export function refractionDeg(trueAltitudeDeg: number, atmosphere?: Atmosphere): number {
  return standardRefractionDeg(trueAltitudeDeg) * (atmosphere === undefined ? 1 : airFactor(atmosphere));
}

/**
 * The airless altitude of a body that is seen at an apparent altitude: the inverse of adding {@link refractionDeg}, to 1e-9 deg.
 * @throws DomainError for an atmosphere out of range
 */
export function trueFromApparentDeg(apparentAltitudeDeg: number, atmosphere?: Atmosphere): number {
  let altitude = apparentAltitudeDeg - refractionDeg(apparentAltitudeDeg, atmosphere);
  // the slope of refraction is at most a quarter, so each pass gains more than half a digit
  for (let i = 0; i < 40; i++) {
    const next = apparentAltitudeDeg - refractionDeg(altitude, atmosphere);
    if (Math.abs(next - altitude) < 1e-10) return next;
    altitude = next;
  }
  return altitude;
}

/** Refraction in the standard air [deg]; for loops that have no time for options. */
export function standardRefractionDeg(trueAltitudeDeg: number): number {
  const h = trueAltitudeDeg < HELD_BELOW_DEG ? HELD_BELOW_DEG : trueAltitudeDeg;
  const lift = SAEMUNDSSON_ARCMIN / 60 / Math.tan((h + 10.3 / (h + 5.11)) * RADIANS);
  return lift > 0 ? lift : 0;
}

/** Density of the air against the standard: (P / 1010)·(283 / (273 + T)) (Meeus 1998, ch. 16). */
export function airFactor({
  pressureHPa = STANDARD_PRESSURE_HPA,
  temperatureC = STANDARD_TEMPERATURE_C,
}: Atmosphere): number {
  requireInRange("pressureHPa", pressureHPa, 300, 1100, "hPa");
  requireInRange("temperatureC", temperatureC, -90, 60, "°C");
  return (pressureHPa / STANDARD_PRESSURE_HPA) * (283 / (273 + temperatureC));
}
