import {
  type BodyInFrame,
  bodyInFrame,
  type CameraHeightRequest as CoreCameraHeightRequest,
  type FramingCamera,
  type SkylineInFrame,
  skylineInFrame,
  solveCameraHeight as solve,
} from "@fieldstop/core/framing";
import type { HorizonProfile } from "@fieldstop/core/horizon";
import { parseInstant } from "@fieldstop/core/instants";
import type { HorizonReport } from "@fieldstop/core/light";
import { type Assumption, type Caution, caution } from "@fieldstop/core/notes";
import { moonPhase, moonPosition, SUN_SEMIDIAMETER_DEG, sunPosition } from "@fieldstop/core/sky";
import { type CameraInput, heldCamera } from "./camera";
import type { Dependencies } from "./dependencies";
import { type HorizonInput, skylineAt } from "./horizon";
import { type PlaceInput, placeTime } from "./place";
import { rounded } from "./rounding";

/** The skyline in the frame, and where sun and moon stand in it. */
export async function projectSkyline(dependencies: Dependencies, request: FrameRequest) {
  return rounded((await frameAt(dependencies, request)).frame);
}

/** A camera at a place, and when. */
export interface FrameRequest {
  readonly place: PlaceInput;
  readonly camera: CameraInput & {
    readonly azimuthDeg: number;
    /** Turned clockwise as seen from behind it, positive [deg]. */
    readonly rollDeg?: number | undefined;
    readonly projection?: FramingCamera["projection"];
  };
  readonly horizon?: HorizonInput | undefined;
  /** RFC 3339; default now. */
  readonly instant?: string | undefined;
}

/** What a camera at a place has in its frame at an instant. */
export interface FrameAtPlace extends SkylineInFrame {
  readonly timeZone: string;
  readonly instant: string;
  readonly camera: Required<FramingCamera>;
  readonly sun: BodyInFrame;
  readonly moon: BodyInFrame & { readonly illuminatedFraction: number };
  readonly horizon: HorizonReport;
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}

/** The sun below this is no danger for minutes to come [deg]. */
const SUN_IS_DOWN_DEG = -1;

/** The frame that a request asks for, and the skyline it was cut from. */
export async function frameAt(
  dependencies: Dependencies,
  request: FrameRequest,
): Promise<{ readonly frame: FrameAtPlace; readonly profile: HorizonProfile }> {
  const { place, camera: cameraInput } = request;
  const { timeZone, clock, assumptions } = placeTime(dependencies, place);
  const instantMs = request.instant === undefined ? dependencies.nowMs() : parseInstant(request.instant);
  const held = heldCamera(cameraInput);
  const camera = {
    azimuthDeg: cameraInput.azimuthDeg,
    pitchDeg: cameraInput.pitchDeg ?? 0,
    rollDeg: cameraInput.rollDeg ?? 0,
    focalLengthMm: held.focalLengthMm,
    widthMm: held.widthMm,
    heightMm: held.heightMm,
    projection: cameraInput.projection ?? "rectilinear",
  };
  const skyline = await skylineAt(dependencies, place, request.horizon);
  const { profile } = skyline;
  const { latitude, longitude, elevationM = skyline.groundElevationM } = place;
  const observer = { latitude, longitude, elevationM };
  const sun = bodyInFrame({
    camera,
    profile,
    position: sunPosition(instantMs, observer),
    semidiameterDeg: SUN_SEMIDIAMETER_DEG,
  });
  const moonAt = moonPosition(instantMs, observer);
  const moon = bodyInFrame({ camera, profile, position: moonAt, semidiameterDeg: moonAt.semidiameterDeg });
  const level: Assumption[] =
    cameraInput.pitchDeg === undefined ? [{ field: "camera.pitchDeg", value: 0, why: "a level camera" }] : [];
  const frame = {
    timeZone,
    instant: clock.format(instantMs),
    camera,
    ...skylineInFrame(profile, camera),
    sun,
    moon: Object.assign({}, moon, { illuminatedFraction: moonPhase(instantMs).illuminatedFraction }),
    horizon: skyline.report,
    assumptions: [...assumptions, ...skyline.assumptions, ...held.assumptions, ...level],
    cautions: sun.inFrame && sun.altitudeDeg > SUN_IS_DOWN_DEG ? [caution("sun-through-optics")] : [],
  };
  return { frame, profile };
}

/** What stands in front, and where the camera is. */
export interface CameraHeightRequest extends Pick<CoreCameraHeightRequest, "things" | "minHeightM" | "maxHeightM"> {
  readonly place: PlaceInput;
  readonly horizon?: HorizonInput | undefined;
  readonly camera?: CameraInput | undefined;
}

/** How high the tripod should stand. */
export async function solveCameraHeight(dependencies: Dependencies, request: CameraHeightRequest) {
  const { place, horizon, camera, things, minHeightM, maxHeightM } = request;
  const { assumptions, ...lens } = heldCamera(camera);
  const skyline = await skylineAt(dependencies, place, horizon);
  const heights = solve({
    things,
    profile: skyline.profile,
    profileEyeHeightM: skyline.eyeHeightM,
    azimuthDeg: camera?.azimuthDeg,
    lens,
    minHeightM,
    maxHeightM,
  });
  const cautions: Caution[] = [];
  return rounded(
    Object.assign({}, heights, {
      horizon: skyline.report,
      assumptions: [...skyline.assumptions, ...assumptions, ...heights.assumptions],
      cautions,
    }),
  );
}
