import { AstroTime, Body, Equator, Horizon, Observer as ReferenceObserver } from "astronomy-engine";
import { separationDeg } from "../../packages/core/src/angles";

// The independent ephemeris: astronomy-engine, which holds itself to the NOVAS library and JPL Horizons within 1′, and in practice to a few seconds
// of arc. Its altitudes here are airless and topocentric, its ΔT the same published polynomials.

export interface Direction {
  readonly azimuthDeg: number;
  readonly trueAltitudeDeg: number;
}

export const at = (ms: number): AstroTime => new AstroTime(new Date(ms));
export const observerAt = (latitude: number, longitude: number): ReferenceObserver =>
  new ReferenceObserver(latitude, longitude, 0);

export function referenceDirection(body: Body, ms: number, observer: ReferenceObserver): Direction {
  const time = at(ms);
  const { ra, dec } = Equator(body, time, observer, true, true);
  const { azimuth, altitude } = Horizon(time, observer, ra, dec);
  return { azimuthDeg: azimuth, trueAltitudeDeg: altitude };
}

/** Angle between two directions [deg]. */
export function apart(a: Direction, b: Direction): number {
  return separationDeg(a.azimuthDeg, a.trueAltitudeDeg, b.azimuthDeg, b.trueAltitudeDeg);
}

export { Body };
