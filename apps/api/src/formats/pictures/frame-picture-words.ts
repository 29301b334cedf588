import type { BodyInFrame, FramingCamera, HorizonProfile, SkylineInFrame } from "@fieldstop/core";

/** What a picture of the frame shows. */
export interface FramePicture {
  readonly name: string | undefined;
  readonly instant: string;
  readonly camera: FramingCamera;
  /** The skyline in the frame, and the profile that it was cut from. */
  readonly skyline: SkylineInFrame;
  readonly profile: HorizonProfile;
  readonly sun: BodyInFrame;
  readonly moon: BodyInFrame;
}

/** Lens and direction in one line. */
export function cameraLine({ focalLengthMm, azimuthDeg, pitchDeg, rollDeg = 0 }: FramingCamera): string {
  const tilt = pitchDeg === 0 ? "level" : `${pitchDeg > 0 ? "up" : "down"} ${short(Math.abs(pitchDeg))}°`;
  return `${short(focalLengthMm)} mm · looking ${short(azimuthDeg)}° · ${tilt}${rollDeg === 0 ? "" : ` · rolled ${short(rollDeg)}°`}`;
}

const short = (value: number): string => String(Math.round(value * 10) / 10);

export const titleOf = ({ name = "this place", camera }: FramePicture): string =>
  `The frame at ${name}, looking ${short(camera.azimuthDeg)}°`;

/** The frame in words, for those who do not see it. */
export function describeFrame({ instant, camera, skyline, sun, moon }: FramePicture): string {
  const { line: straight, skyPercent } = skyline;
  const fit =
    straight === null
      ? "The skyline does not cross the frame."
      : `The dashed straight line lies nearest to the skyline: tilted ${straight.tiltDeg.toFixed(1)}°, and the skyline strays from it by up to ${straight.maxResidualPercent.toFixed(1)} % of the frame's height.`;
  const stands = (kind: string, body: BodyInFrame): string => {
    const place = `azimuth ${body.azimuthDeg.toFixed(1)}°, altitude ${body.altitudeDeg.toFixed(1)}°`;
    if (!body.inFrame) return `The ${kind} is out of the frame (${place}).`;
    return `The ${kind} is in the frame (${place})${body.aboveSkyline ? "" : ", hidden behind the skyline"}.`;
  };
  return `${instant}, ${cameraLine(camera)}. Sky fills ${skyPercent.toFixed(0)} % of the frame. ${fit} ${stands("sun", sun)} ${stands("moon", moon)}`;
}
