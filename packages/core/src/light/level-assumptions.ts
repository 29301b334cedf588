import type { Assumption } from "../notes";
import { cloudEffect } from "../sky/cloud";
import { frameSkyLuminance, USUAL_VIEW } from "../sky/luminance";
import { type SkyState, skyField, TURBIDITY } from "../sky/sky-types";
import type { Facing } from "./direct-light";
import { pointedCamera, type SceneCamera } from "./scene-camera";
import { frameWaterLuminance } from "./still-water";

// Common practice: the middle grey that meters are taught to see
export const USUAL_REFLECTANCE = 0.18;
// Our own choice: three stops under open shade, about what metered clefts and overhangs show; no source
export const DEEP_SHADE_SKY_SHARE = 1 / 8;

/** What a request may leave unsaid. */
export interface Unsaid {
  readonly reflectance?: number | undefined;
  readonly sky?: SkyState | undefined;
  readonly camera?: SceneCamera | undefined;
  readonly subject?: Facing | undefined;
}

const EVEN = skyField(() => 1);

/** What the levels of a scene take for granted where a request says nothing, for a sun no lower than given [deg]. */
export function levelAssumptions({ camera, reflectance, sky, subject }: Unsaid, lowestSunDeg: number): Assumption[] {
  const assumptions: Assumption[] = [];
  const assume = (field: string, value: Assumption["value"], why: string): void => {
    assumptions.push({ field, value, why });
  };
  if (reflectance === undefined) assume("reflectance", USUAL_REFLECTANCE, "middle grey, what meters are set for");
  if (subject === undefined) assume("subject", "level ground", "no facing was given");
  assume("deepShade", DEEP_SHADE_SKY_SHARE, "deep shade sees an eighth of the sky that open shade sees");
  if (sky?.cloudCover === undefined) assume("sky.cloudCover", "clear", "no cloud was given");
  if (sky?.cloudCover !== undefined) {
    const { overcastness } = cloudEffect(sky.cloudCover);
    if (overcastness > 0 && overcastness < 1) assume("directLux", "mean", "under broken cloud, over sun and shadow");
  }
  if (sky?.turbidity === undefined) assume("sky.turbidity", TURBIDITY.usual, "air of usual clearness");
  if (lowestSunDeg < -12) assume("artificialLight", "none", "the night sky is taken without lamps below it");
  const view = pointedCamera(camera);
  if (view === undefined) {
    assume("camera.azimuthDeg", "whole sky", "no direction was given: the sky is its mean over all directions");
    return assumptions;
  }
  for (const field of ["pitchDeg", "horizontalAngleDeg", "verticalAngleDeg", "skylineAltitudeDeg"] as const) {
    if (view[field] === undefined) assume(`camera.${field}`, USUAL_VIEW[field], WHY_VIEW[field]);
  }
  if (frameSkyLuminance(EVEN, view) === undefined) {
    assume("sky", "above the frame", "no sky is in the frame: it is read just above the skyline");
  }
  if (frameWaterLuminance(EVEN, view) === undefined) {
    assume("stillWater", "below the frame", "no water can be in the frame: it is read a little below the horizon");
  }
  return assumptions;
}

const WHY_VIEW = {
  pitchDeg: "a level camera",
  horizontalAngleDeg: "a 35 mm lens on 36 × 24 mm",
  verticalAngleDeg: "a 35 mm lens on 36 × 24 mm",
  skylineAltitudeDeg: "a level skyline in the frame",
} as const;
