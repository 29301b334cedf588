import { type FramingCamera, frameProjection } from "../framing/projection";
import type { HorizonProfile } from "../horizon/profile";
import type { SceneLevels } from "../light/levels";
import { skylineIn } from "../light/skyline-in-frame";
import type { SkyPosition } from "../sky/horizontal";
import { type CameraView, frameSkyShare, USUAL_VIEW } from "../sky/luminance";
import type { PlannedCamera } from "./camera";
import type { SessionScene } from "./scene";
import type { DarkEnd } from "./scene-kind";
import { type SceneTones, sceneTones, type TonesRequest } from "./scene-tones";

/** What the camera sees at one instant. */
export interface SceneAt {
  readonly sun: SkyPosition;
  readonly framing: FramingCamera;
  readonly levels: SceneLevels;
  /** Whether the sun shines on what is photographed. */
  readonly lit: boolean;
  /** Whether the sun's disc is in the frame, or shines on the lens from beside it. */
  readonly sunInFrame: boolean;
  readonly sunBesideFrame: boolean;
  /** Part of the frame that is sky [%]. */
  readonly skyPercent: number;
  readonly tones: SceneTones;
  readonly tonesRequest: TonesRequest;
}

export interface SceneAtRequest {
  readonly scene: SessionScene;
  readonly camera: PlannedCamera;
  readonly profile: HorizonProfile;
  readonly darkEnd: DarkEnd;
}

/**
 * The one scene that every decision about a moment rests on.
 * @param isEdge whether direct light comes or goes at this instant, so that the sun's limb touches the ridge
 */
export function sceneAt(instantMs: number, isEdge: boolean, request: SceneAtRequest): SceneAt {
  const { scene, camera, profile, darkEnd } = request;
  const sun = scene.sun(instantMs);
  const framing = camera.framingToward(sun.azimuthDeg);
  const view = withSkylineOf(profile, camera.viewToward(sun.azimuthDeg));
  const levels = scene.levelsAt(instantMs, view);
  const lit = scene.isLit(instantMs);
  const seen = scene.sunIsSeen(instantMs) || (lit && isEdge);
  const at = frameProjection(framing).toFrame(sun.azimuthDeg, sun.altitudeDeg);
  const sunInFrame = seen && at !== null && isIn(at.x) && isIn(at.y);
  const skyPercent = 100 * frameSkyShare(view);
  const tonesRequest: TonesRequest = {
    ev100: levels.ev100,
    lit,
    darkEnd,
    sunInFrame,
    skyPercent,
    sunAltitudeDeg: sun.altitudeDeg,
    uncertaintyStops: levels.uncertaintyStops,
  };
  return {
    sun,
    framing,
    levels,
    lit,
    sunInFrame,
    sunBesideFrame: seen && !sunInFrame && facesSun(view.azimuthDeg, sun.azimuthDeg),
    skyPercent,
    tones: sceneTones(tonesRequest),
    tonesRequest,
  };
}

function withSkylineOf(profile: HorizonProfile, view: CameraView): CameraView {
  const width = view.horizontalAngleDeg ?? USUAL_VIEW.horizontalAngleDeg;
  return { ...view, skylineAltitudeDeg: skylineIn(profile, view.azimuthDeg, width) };
}

function isIn(share: number): boolean {
  return share >= 0 && share <= 1;
}

// Common practice: a sun within about 90° of where the lens points shines on its front
function facesSun(azimuthDeg: number, sunAzimuthDeg: number): boolean {
  return Math.abs(((sunAzimuthDeg - azimuthDeg + 540) % 360) - 180) < 90;
}
