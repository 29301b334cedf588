import { cosDeg, sinDeg } from "../angles";
import { requireInRange } from "../domain-error";

/**
 * How much of the sky each level of cloud covers [per cent], as forecasts give it: each level counted as if the others
 * were not there.
 */
export interface CloudCover {
  /** Stratus, stratocumulus, cumulus, nimbostratus. */
  readonly low: number;
  /** Altocumulus, altostratus. */
  readonly middle: number;
  /** Cirrus, cirrostratus, cirrocumulus. */
  readonly high: number;
}

/** The state of the sky that its brightness depends on; a clear sky of usual turbidity where a field is absent. */
export interface SkyState {
  readonly cloudCover?: CloudCover | undefined;
  /** Luminous turbidity factor [1], 1 (pure, dry air) to 15 (thick haze). */
  readonly turbidity?: number | undefined;
}

/** A direction on the sky: azimuth [deg clockwise from true north] and altitude [deg]. */
export interface SkyPoint {
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
}

/** A quantity that differs over the sky. Below the horizon it is what it is on it. */
export interface SkyField {
  /** By azimuth and altitude [deg]. */
  toward(azimuthDeg: number, altitudeDeg: number): number;
  /** By a unit vector; for loops, which have it at hand. */
  along(east: number, north: number, up: number): number;
}

/** Make the field of a quantity that is known by unit vectors. */
export function skyField(along: SkyField["along"]): SkyField {
  return {
    along,
    toward(azimuthDeg, altitudeDeg) {
      const level = cosDeg(altitudeDeg);
      return along(level * sinDeg(azimuthDeg), level * cosDeg(azimuthDeg), sinDeg(altitudeDeg));
    },
  };
}

export const CLEAR_SKY: CloudCover = Object.freeze({ low: 0, middle: 0, high: 0 });

// CIE S 017:2020, term 17-29-108 (luminous turbidity factor): how many clean, dry atmospheres dim the sun as much.
// The usual value is the one at which the extinction of the IES clear sky, 0.21 for each air mass (IES 1984, from
// memory), agrees with 0.1/(1 + 0.0045 m) for each clean atmosphere (Clear 1982; Navvab et al. 1984, from memory) at
// air mass 2.
export const TURBIDITY = { usual: 2.12, min: 1, max: 15 } as const;

/** Return the cover when each level is 0 to 100 per cent; otherwise throw a DomainError that names the level. */
export function requireCloudCover(cover: CloudCover, param = "sky.cloudCover"): CloudCover {
  requireInRange(`${param}.low`, cover.low, 0, 100, "%");
  requireInRange(`${param}.middle`, cover.middle, 0, 100, "%");
  requireInRange(`${param}.high`, cover.high, 0, 100, "%");
  return cover;
}

/** Return the turbidity when it is in range; otherwise throw a DomainError. */
export function requireTurbidity(turbidity: number, param = "sky.turbidity"): number {
  return requireInRange(param, turbidity, TURBIDITY.min, TURBIDITY.max);
}
