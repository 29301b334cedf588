import { type CameraHeightRequest, solveCameraHeight as solve } from "@fieldstop/core/framing";
import type { Caution } from "@fieldstop/core/notes";
import type { AskedHorizon } from "../places/asked-horizon";
import type { AskedPlace } from "../places/asked-place";
import { skylineAt } from "../places/skyline-at";
import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import type { AskedCamera } from "./asked-camera";
import { heldCamera } from "./held-camera";

/** What stands in front, and where the camera is. */
export interface CameraHeightAsked extends Pick<CameraHeightRequest, "things" | "minHeightM" | "maxHeightM"> {
  readonly place: AskedPlace;
  readonly horizon?: AskedHorizon | undefined;
  readonly camera?: AskedCamera | undefined;
}

/** How high the tripod should stand. */
export async function solveCameraHeight(surroundings: Surroundings, asked: CameraHeightAsked) {
  const { place, horizon, camera, things, minHeightM, maxHeightM } = asked;
  const { assumptions, ...lens } = heldCamera(camera);
  const skyline = await skylineAt(surroundings, place, horizon);
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
