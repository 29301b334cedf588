import type { z } from "@hono/zod-openapi";
import { drawFrame } from "../pictures/frame-picture";
import type { SkylineInput } from "../schemas/projected-skyline";
import type { Services } from "../services";
import { frameAt } from "./frame-at";

/** The frame that a request asks for, as a picture. */
export async function framePictureAt(services: Services, asked: z.output<typeof SkylineInput>): Promise<string> {
  const { frame, profile } = await frameAt(services, asked);
  const { instant, camera, sun, moon } = frame;
  return drawFrame({ name: asked.place.name, instant, camera, skyline: frame, profile, sun, moon });
}
