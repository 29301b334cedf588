import { fresnelReflectance } from "../sky/fresnel";
import { type CameraView, frameMeanBelowHorizon, type SkyLuminance } from "../sky/luminance";

/** Depression that stands for a look over water where no frame says better [deg]: the water some ten eye heights away and beyond. */
export const USUAL_WATER_DEPRESSION_DEG = 5;

/**
 * Luminance of still water [cd/m²] looked at under a depression: the sky that stands as high above the horizon, reflected. What shines up from below the surface,
 * some two per cent of the light on it, is left out: looking steeply down, water is brighter than this.
 * @param sky luminance of the sky by direction
 * @param azimuthDeg the way one looks [deg]
 * @param depressionDeg under the horizon [deg], 0 to 90
 * @throws DomainError for a depression out of range
 * Source: Fresnel's reflectance for unpolarized light; see {@link fresnelReflectance}.
 */
export function stillWaterLuminance(sky: SkyLuminance, azimuthDeg: number, depressionDeg: number): number {
  return sky(azimuthDeg, depressionDeg) * fresnelReflectance(90 - depressionDeg).mean;
}

/** Mean luminance of still water over the part of a frame below the horizon [cd/m²]; undefined where there is none. */
export function frameWaterLuminance(sky: SkyLuminance, camera: CameraView): number | undefined {
  return frameMeanBelowHorizon(
    (azimuthDeg, depressionDeg) => stillWaterLuminance(sky, azimuthDeg, Math.min(90, Math.max(0, depressionDeg))),
    camera,
  );
}

/** The same, the compass round, at the usual depression. */
export function roundWaterLuminance(sky: SkyLuminance): number {
  let sum = 0;
  for (let azimuthDeg = 0; azimuthDeg < 360; azimuthDeg += 30) {
    sum += stillWaterLuminance(sky, azimuthDeg, USUAL_WATER_DEPRESSION_DEG);
  }
  return sum / 12;
}
