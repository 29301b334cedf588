import { RADIANS_PER_DEGREE } from "../angles";
import { requireInRange } from "../domain-error";

/** The air that light passes through. */
export interface Atmosphere {
  /** Pressure at the place, not reduced to sea level [hPa]; default 1010, less with the observer's elevation. */
  readonly pressureHPa?: number | undefined;
  /** [°C]; default 10. */
  readonly temperatureC?: number | undefined;
}

// The air that both formulas below are for
const STANDARD_PRESSURE_HPA = 1010;
const STANDARD_TEMPERATURE_C = 10;
/** Both formulas are for bodies above the horizon; below this they are held, so that altitudes stay in order. */
const HELD_BELOW_DEG = -1;
/** Refraction on the horizon that almanacs agree on for rise and set: 34′ (Nautical Almanac Office, "Rise, Set, and Twilight Definitions"). */
export const HORIZON_REFRACTION_DEG = 34 / 60;
/** The densest air that is taken lifts no body by more than this [deg]. */
export const MOST_LIFT_DEG = 1.2;

/**
 * Compute how far the air lifts a body that stands at an airless altitude.
 * @param trueAltitudeDeg airless altitude [deg], -90 to 90; below -1 the value at -1 is held
 * @param atmosphere pressure [hPa] 300 to 1100, temperature [°C] -90 to 60
 * @returns [deg], 0 or more
 * @throws DomainError for an altitude or an atmosphere out of range
 * Source: Sæmundsson 1986; pressure and temperature after Meeus 1998, ch. 16. Accuracy: 0.1′ against Bennett above the horizon;
 * near the horizon real air differs by 0.02 to 0.05°. Held by the golden rows `refr` and `meeus.16a`.
 * @example refractionDeg(0) // 0.483
 */
export function refractionDeg(trueAltitudeDeg: number, atmosphere?: Atmosphere): number {
  requireInRange("trueAltitudeDeg", trueAltitudeDeg, -90, 90, "deg");
  return standardRefractionDeg(trueAltitudeDeg) * airFactor(atmosphere);
}

/**
 * Compute how far the air has lifted a body that is seen at an apparent altitude.
 * @param apparentAltitudeDeg [deg], -90 to 90; below -1 the value at -1 is held
 * @param atmosphere pressure [hPa] 300 to 1100, temperature [°C] -90 to 60
 * @returns [deg], 0 or more
 * @throws DomainError for an altitude or an atmosphere out of range
 * Source: Bennett 1982, J. Navigation 35:255 (Meeus 1998, eq. 16.3). Accuracy: 0.07′ by its author, with the same caution for the horizon.
 * Held by the golden rows `refr` and `meeus.16a`.
 * @example refractionSeenDeg(0) // 0.575
 */
export function refractionSeenDeg(apparentAltitudeDeg: number, atmosphere?: Atmosphere): number {
  requireInRange("apparentAltitudeDeg", apparentAltitudeDeg, -90, 90, "deg");
  return standardRefractionSeenDeg(apparentAltitudeDeg) * airFactor(atmosphere);
}

/**
 * Compute the airless altitude of a body that is seen at an apparent altitude: the exact inverse of adding {@link refractionDeg}, so that there and
 * back again is free of the 0.1′ by which the two published formulas differ.
 * @param apparentAltitudeDeg [deg], -90 to 90
 * @param atmosphere pressure [hPa] 300 to 1100, temperature [°C] -90 to 60
 * @returns [deg]
 * @throws DomainError for an altitude or an atmosphere out of range
 * Accuracy: 1e-9° as an inverse; held by tests/core/sky/refraction.spec.ts.
 * @example trueFromApparentDeg(0) // -0.574
 */
export function trueFromApparentDeg(apparentAltitudeDeg: number, atmosphere?: Atmosphere): number {
  requireInRange("apparentAltitudeDeg", apparentAltitudeDeg, -90, 90, "deg");
  const air = airFactor(atmosphere);
  // the slope of refraction is a quarter at most, so that each pass gains more than half a digit
  let altitude = apparentAltitudeDeg - standardRefractionSeenDeg(apparentAltitudeDeg) * air;
  for (let i = 0; i < 40; i++) {
    const next = apparentAltitudeDeg - standardRefractionDeg(altitude) * air;
    if (Math.abs(next - altitude) < 1e-11) return next;
    altitude = next;
  }
  return altitude;
}

/** Refraction in the standard air at an airless altitude [deg]; for loops that have no time for options. */
export function standardRefractionDeg(trueAltitudeDeg: number): number {
  const h = trueAltitudeDeg < HELD_BELOW_DEG ? HELD_BELOW_DEG : trueAltitudeDeg;
  // Sæmundsson 1986, Sky and Telescope 72:70 (Meeus 1998, Astronomical Algorithms, eq. 16.4): 1.02′ / tan(h + 10.3 / (h + 5.11))
  const lift = (1.02 / 60) * (1 / Math.tan((h + 10.3 / (h + 5.11)) * RADIANS_PER_DEGREE));
  return lift > 0 ? lift : 0;
}

/** Refraction in the standard air at an apparent altitude [deg]. */
function standardRefractionSeenDeg(apparentAltitudeDeg: number): number {
  const h = apparentAltitudeDeg < HELD_BELOW_DEG ? HELD_BELOW_DEG : apparentAltitudeDeg;
  // Bennett 1982 (Meeus 1998, eq. 16.3): 1′ / tan(h + 7.31 / (h + 4.4))
  const lift = 1 / 60 / Math.tan((h + 7.31 / (h + 4.4)) * RADIANS_PER_DEGREE);
  return lift > 0 ? lift : 0;
}

/** Density of the air against the standard: (P / 1010)·(283 / (273 + T)) (Meeus 1998, ch. 16). */
export function airFactor(atmosphere: Atmosphere | undefined, elevationM = 0): number {
  const pressureHPa = atmosphere?.pressureHPa ?? usualPressureHPa(elevationM);
  const temperatureC = atmosphere?.temperatureC ?? STANDARD_TEMPERATURE_C;
  requireInRange("pressureHPa", pressureHPa, 300, 1100, "hPa");
  requireInRange("temperatureC", temperatureC, -90, 60, "°C");
  return (pressureHPa / STANDARD_PRESSURE_HPA) * ((273 + STANDARD_TEMPERATURE_C) / (273 + temperatureC));
}

/**
 * Compute the air pressure to expect at a height above the sea.
 * @param elevationM [m], -500 to 9000
 * @returns [hPa], 1010 at sea level, which is what refraction formulas are for
 * @throws DomainError outside that range
 * Source: ICAO Doc 7488 (1993), Manual of the ICAO Standard Atmosphere: the ratio to sea level below 11 km.
 * @example usualPressureHPa(2000) // 792.4
 */
export function usualPressureHPa(elevationM: number): number {
  if (elevationM === 0) return STANDARD_PRESSURE_HPA;
  requireInRange("elevationM", elevationM, -500, 9000, "m");
  return STANDARD_PRESSURE_HPA * (1 - 2.25577e-5 * elevationM) ** 5.25588;
}
