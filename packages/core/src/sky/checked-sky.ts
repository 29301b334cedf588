import { type CloudEffect, cloudEffect } from "./cloud";
import { CLEAR_SKY, requireTurbidity, type SkyState, TURBIDITY } from "./sky-types";

/** A state of the sky that was checked, with what its clouds do: for loops over the light under one sky. */
export interface CheckedSky extends CloudEffect {
  readonly turbidity: number;
}

/** @throws DomainError for a cover or a turbidity out of range */
export function checkedSky({ cloudCover = CLEAR_SKY, turbidity = TURBIDITY.usual }: SkyState = {}): CheckedSky {
  const { transmittance, directTransmittance, overcastness } = cloudEffect(cloudCover);
  return { turbidity: requireTurbidity(turbidity), transmittance, directTransmittance, overcastness };
}
