import {
  type CameraHeightRequest as CoreCameraHeightRequest,
  solveCameraHeight as solve,
} from "@fieldstop/core/framing";
import type { Caution } from "@fieldstop/core/notes";
import type { Dependencies } from "../dependencies";
import type { HorizonInput } from "../places/horizon-input";
import type { PlaceInput } from "../places/place-input";
import { skylineAt } from "../places/skyline-at";
import { rounded } from "../rounding";
import type { CameraInput } from "./camera-input";
import { heldCamera } from "./held-camera";

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
