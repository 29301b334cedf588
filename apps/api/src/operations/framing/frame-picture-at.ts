import { type FrameAsked, frameAt } from "@fieldstop/answers";
import { drawFrame } from "../../formats/pictures/frame-picture";
import type { Services } from "../../services";

/** The frame that a request asks for, as a picture. */
export async function framePictureAt(services: Services, asked: FrameAsked): Promise<string> {
  const { frame, profile } = await frameAt(services, asked);
  const { instant, camera, sun, moon } = frame;
  return drawFrame({ name: asked.place.name, instant, camera, skyline: frame, profile, sun, moon });
}
