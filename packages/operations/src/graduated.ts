import { DomainError } from "@fieldstop/core/domain-error";
import { parseInstant } from "@fieldstop/core/instants";
import type { Facing } from "@fieldstop/core/light";
import { type GraduatedInFrameRequest, graduatedInFrame } from "@fieldstop/core/outing";
import { type CameraInput, pointed } from "./camera";
import type { Dependencies } from "./dependencies";
import { type HorizonInput, skylineAt } from "./horizon";
import { type PlaceInput, placeTime } from "./place";
import { rounded } from "./rounding";

/** A frame for a graduated filter, at a place and an instant. */
export interface GraduatedRequest
  extends Pick<GraduatedInFrameRequest, "sky" | "obstacles" | "contrastStops" | "residualStops" | "available"> {
  readonly place: PlaceInput;
  /** RFC 3339; default now. */
  readonly instant?: string | undefined;
  readonly camera: CameraInput;
  readonly horizon?: HorizonInput | undefined;
  readonly subject?: Partial<Facing> | undefined;
}

/** Whether a graduated filter fits this frame. */
export async function assessGraduated(dependencies: Dependencies, request: GraduatedRequest) {
  const { place, instant, horizon, subject, camera, ...rest } = request;
  const { clock, assumptions } = placeTime(dependencies, place);
  const instantMs = instant === undefined ? dependencies.nowMs() : parseInstant(instant);
  const facing = facingOf(subject);
  const skyline = await skylineAt(dependencies, place, horizon);
  const observer = {
    latitude: place.latitude,
    longitude: place.longitude,
    elevationM: place.elevationM ?? skyline.groundElevationM ?? 0,
  };
  const answer = graduatedInFrame(
    Object.assign({}, rest, {
      instantMs,
      observer,
      camera: pointed(camera),
      profile: skyline.profile,
      subject: facing,
    }),
  );
  return rounded({
    instant: clock.format(instantMs),
    ...answer,
    assumptions: [...assumptions, ...skyline.assumptions, ...answer.assumptions],
  });
}

/** A facing without a slope is an upright face; a slope needs a facing. */
function facingOf(subject: GraduatedRequest["subject"]): Facing | undefined {
  const { facingAzimuthDeg, slopeDeg } = subject ?? {};
  if (facingAzimuthDeg !== undefined) return { facingAzimuthDeg, slopeDeg: slopeDeg ?? 90 };
  if (slopeDeg === undefined || slopeDeg === 0) return undefined;
  const allowed = "the way the slope looks, 0 to 360";
  throw new DomainError({ param: "subject.facingAzimuthDeg", given: undefined, allowed, unit: "deg" });
}
