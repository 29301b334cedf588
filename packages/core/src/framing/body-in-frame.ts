import { requireInRange } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass } from "../interpolation";
import type { SkyPosition } from "../sky/horizontal";
import { standardRefractionDeg } from "../sky/refraction";
import { type FramePoint, type FramingCamera, frameProjection } from "./projection";

/** Where the sun or the moon stands against the frame and the skyline. */
export interface BodyInFrame {
  /** Centre of the disc; null where it is neither in the frame nor near it: farther off than the frame is wide or high. */
  readonly x: number | null;
  readonly y: number | null;
  /** Any of the disc falls within the edges of the frame, whether land covers it or not. */
  readonly inFrame: boolean;
  /** The top of the disc stands over the skyline, or over the ground's edge where that is lower. */
  readonly aboveSkyline: boolean;
  readonly azimuthDeg: number;
  /** Apparent altitude of the centre [deg]. */
  readonly altitudeDeg: number;
  /** Upright diameter of the disc as the lens draws it there [% of the frame's height]; null with x and y. */
  readonly discDiameterPercent: number | null;
}

export interface BodyInFrameRequest {
  readonly camera: FramingCamera;
  readonly profile: HorizonProfile;
  readonly position: SkyPosition;
  /** Half the apparent diameter [deg], 0 to 1. */
  readonly semidiameterDeg: number;
}

/**
 * Compute where sun or moon stands in the frame or near it, how large it is drawn, and whether the ridge hides it.
 * @param request camera; skyline [deg]; apparent and true position [deg]; semidiameter [deg]
 * @returns centre as a part of the frame, diameter [%]
 * @throws DomainError for a camera that {@link frameProjection} refuses, or a semidiameter out of range
 * Source: {@link frameProjection}; the upper limb is lifted by its own refraction, Sæmundsson 1986 as elsewhere. Accuracy: 0.01° for the limb;
 * held in tests/core/framing/body-in-frame.spec.ts.
 * @example
 * bodyInFrame({ camera: { azimuthDeg: 270, pitchDeg: 0, focalLengthMm: 24, widthMm: 36, heightMm: 24 }, profile: flatHorizon(), position: { azimuthDeg: 270, altitudeDeg: 10, trueAltitudeDeg: 9.9 }, semidiameterDeg: 16 / 60 }).y // 0.3237
 */
export function bodyInFrame({ camera, profile, position, semidiameterDeg }: BodyInFrameRequest): BodyInFrame {
  requireInRange("semidiameterDeg", semidiameterDeg, 0, 1, "deg");
  const { azimuthDeg, altitudeDeg } = position;
  const { toFrame } = frameProjection(camera);
  const centre = toFrame(azimuthDeg, altitudeDeg);
  const above = toFrame(azimuthDeg, altitudeDeg + semidiameterDeg);
  const below = toFrame(azimuthDeg, altitudeDeg - semidiameterDeg);
  const skylineDeg = interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
  const aboveSkyline = upperLimbDeg(position, semidiameterDeg) > skylineDeg;
  if (centre === null || above === null || below === null || !isNear(centre)) {
    return { x: null, y: null, inFrame: false, aboveSkyline, azimuthDeg, altitudeDeg, discDiameterPercent: null };
  }
  const diameterMm = Math.hypot((above.x - below.x) * camera.widthMm, (above.y - below.y) * camera.heightMm);
  const outsideMm = Math.hypot(beyond(centre.x) * camera.widthMm, beyond(centre.y) * camera.heightMm);
  return {
    x: centre.x,
    y: centre.y,
    inFrame: outsideMm <= diameterMm / 2,
    aboveSkyline,
    azimuthDeg,
    altitudeDeg,
    discDiameterPercent: (100 * diameterMm) / camera.heightMm,
  };
}

function isNear({ x, y }: FramePoint): boolean {
  return beyond(x) <= 1 && beyond(y) <= 1;
}

/** How far outside 0 to 1. */
function beyond(part: number): number {
  return Math.max(0, -part, part - 1);
}

/** Apparent altitude of the top of the disc: nearer the horizon it is lifted less than the centre, in the air that lifts the centre as it does. */
function upperLimbDeg({ altitudeDeg, trueAltitudeDeg }: SkyPosition, semidiameterDeg: number): number {
  const standard = standardRefractionDeg(trueAltitudeDeg);
  const air = standard > 1e-5 ? (altitudeDeg - trueAltitudeDeg) / standard : 1;
  const limbDeg = trueAltitudeDeg + semidiameterDeg;
  return limbDeg + standardRefractionDeg(limbDeg) * air;
}
