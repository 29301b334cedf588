import { DomainError, within } from "../domain-error";
import type { ExposureSolution } from "./solve";
import { type VideoAttenuation, videoAttenuation } from "./video";

/** A video camera whose shutter is to be held. */
export interface HeldVideo {
  /** [1/s], 0.01 to 10,000. */
  readonly frameRate: number;
  /** [deg], more than 0, up to 360; default 180. */
  readonly shutterAngleDeg?: number;
}

/** What holds the shutter of a video camera, where the time that the light asks for is what was solved for. */
export function heldForVideo(
  { frameRate, shutterAngleDeg = 180 }: HeldVideo,
  solvedFor: ExposureSolution["solvedFor"],
  seconds: number,
): VideoAttenuation {
  if (solvedFor !== "shutter") {
    const allowed = "only with aperture and iso, without shutterSeconds";
    throw new DomainError({ param: "video", given: frameRate, allowed });
  }
  return within("video", () => videoAttenuation(frameRate, shutterAngleDeg, seconds));
}
