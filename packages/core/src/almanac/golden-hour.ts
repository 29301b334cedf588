import { DomainError, requireInRange } from "../domain-error";

/** True altitudes of the sun's centre between which the light has a name [deg]. */
export interface TwilightBounds {
  readonly goldenHourDeg?: readonly [number, number];
  readonly blueHourDeg?: readonly [number, number];
}

// Common practice, no source: golden hour -4 to +6, blue hour -6 to -4
export const GOLDEN_HOUR_DEG = [-4, 6] as const;
export const BLUE_HOUR_DEG = [-6, -4] as const;

/** Golden hour: the true altitudes of the sun's centre that bound it [deg], the lower first. */
export const goldenHourBounds = ({ goldenHourDeg = GOLDEN_HOUR_DEG }: TwilightBounds): readonly [number, number] =>
  requireBounds("goldenHourDeg", goldenHourDeg);

/** Blue hour: the same. */
export const blueHourBounds = ({ blueHourDeg = BLUE_HOUR_DEG }: TwilightBounds): readonly [number, number] =>
  requireBounds("blueHourDeg", blueHourDeg);

function requireBounds(param: string, bounds: readonly [number, number]): readonly [number, number] {
  const [low, high] = bounds;
  requireInRange(`${param}.0`, low, -90, 90, "deg");
  requireInRange(`${param}.1`, high, -90, 90, "deg");
  if (low >= high) throw new DomainError({ param, given: bounds, allowed: "the lower bound first", unit: "deg" });
  return bounds;
}
