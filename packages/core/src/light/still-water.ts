import { sinDeg } from "../angles";
import { requireInRange } from "../domain-error";
import { fresnelAtCosine } from "../sky/fresnel";
import { type CameraView, frameMeanBelowHorizon } from "../sky/luminance";
import type { SkyField } from "../sky/sky-types";

/**
 * Depression that stands for a look over water where no frame says better [deg]: the water some ten eye heights away
 * and beyond.
 */
export const USUAL_WATER_DEPRESSION_DEG = 5;

/**
 * Compute the luminance of still water [cd/m²] looked at under a depression: the sky that stands as high above the horizon,
 * reflected. What shines up from below the surface, some two per cent of the light on it, is left out: looking steeply
 * down, water is brighter than this.
 * @param sky luminance of the sky by direction
 * @param azimuthDeg the way one looks [deg]
 * @param depressionDeg under the horizon [deg], 0 to 90
 * @throws DomainError for a depression out of range
 * Source: Fresnel's reflectance for unpolarized light; see `fresnelReflectance`.
 */
export function stillWaterLuminance(sky: SkyField, azimuthDeg: number, depressionDeg: number): number {
  requireInRange("depressionDeg", depressionDeg, 0, 90, "deg");
  return sky.toward(azimuthDeg, depressionDeg) * fresnelAtCosine(sinDeg(depressionDeg)).mean;
}

/**
 * Mean luminance of the sky in still water over the part of a frame below the horizon [cd/m²]; undefined where there is none. Where the skyline of the
 * frame stands over the horizon, the water near its foot mirrors the hills: only what mirrors sky counts.
 */
export function frameWaterLuminance(sky: SkyField, camera: CameraView): number | undefined {
  return frameMeanBelowHorizon((east, north, up) => {
    // the look goes down by as much as its mirror image goes up; rounding must not lift it over the horizon
    const down = Math.max(0, -up);
    return sky.along(east, north, down) * fresnelAtCosine(down).mean;
  }, camera);
}

/** The same, the compass round, at the usual depression. */
export function roundWaterLuminance(sky: SkyField): number {
  let sum = 0;
  for (let azimuthDeg = 0; azimuthDeg < 360; azimuthDeg += 30) {
    sum += stillWaterLuminance(sky, azimuthDeg, USUAL_WATER_DEPRESSION_DEG);
  }
  return sum / 12;
}
