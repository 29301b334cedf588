import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass } from "../interpolation";
import { USUAL_VIEW } from "../sky/luminance";
import type { SceneCamera } from "./scene-camera";

/** The camera with the mean skyline of its frame, unless it says where its skyline is. */
export function withSkyline(camera: SceneCamera, profile: HorizonProfile): SceneCamera {
  if (camera.skylineAltitudeDeg !== undefined || camera.azimuthDeg === undefined) return camera;
  const width = camera.horizontalAngleDeg ?? USUAL_VIEW.horizontalAngleDeg;
  return Object.assign({}, camera, { skylineAltitudeDeg: skylineIn(profile, camera.azimuthDeg, width) });
}

const SKYLINE_LOOKS = 9;

/** Mean altitude of the skyline [deg] across a frame; its dips below the horizon count as the horizon. */
export function skylineIn({ azimuthsDeg, altitudesDeg }: HorizonProfile, azimuthDeg: number, widthDeg: number): number {
  let sum = 0;
  for (let i = 0; i < SKYLINE_LOOKS; i++) {
    const azimuth = azimuthDeg + widthDeg * ((i + 0.5) / SKYLINE_LOOKS - 0.5);
    sum += Math.max(0, interpolateRoundCompass(azimuthsDeg, altitudesDeg, azimuth));
  }
  return Math.min(89, sum / SKYLINE_LOOKS);
}
