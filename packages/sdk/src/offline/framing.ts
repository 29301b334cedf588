import * as operations from "@fieldstop/operations/framing";
import type { CameraHeightInput, CameraHeights, ProjectedSkyline, SkylineInput } from "../generated/types.gen.js";
import { answeredAt, refuseTerrain } from "./answered-at.js";
import { needsService } from "./needs-service.js";
import type { OfflineOptions } from "./options.js";

/** The skyline in the frame, and where sun and moon stand in it, without a network. */
export function projectSkyline(body: SkylineInput, options?: OfflineOptions): Promise<ProjectedSkyline> {
  return answeredAt("/v1/skyline", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    return operations.projectSkyline(around, body);
  });
}

/** How high the tripod should stand, without a network. */
export function solveCameraHeight(body: CameraHeightInput, options?: OfflineOptions): Promise<CameraHeights> {
  // no instant in it, hence no time zone
  return answeredAt("/v1/framing/camera-height", "json", options, [], (around) => {
    refuseTerrain(body.horizon);
    return operations.solveCameraHeight(around, body);
  });
}

/** Refused: the service draws. */
export function drawSkyline(): Promise<never> {
  return needsService("/v1/skyline.svg", "the service draws the pictures");
}
