import { type FrameRequest, frameAt } from "@fieldstop/operations";
import { drawFrame } from "../../formats/pictures/frame-picture";
import type { Services } from "../../services";

/** The frame that a request asks for, as a picture. */
export async function framePictureAt(services: Services, request: FrameRequest): Promise<string> {
  const { frame, profile } = await frameAt(services, request);
  const { instant, camera, sun, moon } = frame;
  return drawFrame({ name: request.place.name, instant, camera, skyline: frame, profile, sun, moon });
}
