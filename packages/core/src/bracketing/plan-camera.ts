import { requireInRange } from "../domain-error";
import { readAperture, readIso, readShutter } from "../exposure/settings";
import { type ShutterLimits, USUAL_FASTEST_SECONDS, USUAL_LONGEST_SECONDS } from "../exposure/shutter-limits";
import type { Assumption } from "../notes";
import type { LatitudeInput } from "./latitude";

/** The camera that takes the set: only its shutter time varies. */
export interface BracketCamera extends LatitudeInput, ShutterLimits {
  /** f-number as typed; a mark is read as what it stands for. Default f/11. */
  readonly aperture?: number;
  /** ISO as typed; a mark is read as what it stands for. Default 100. */
  readonly iso?: number;
  /** Time between the end of one frame and the start of the next [s], 0 to 600; default 0.5. */
  readonly frameGapSeconds?: number;
}

// Notes are shared: making them each time would cost as much as reading the camera
const USUAL = {
  aperture: { field: "camera.aperture", value: 11, why: "common in landscapes" },
  iso: { field: "camera.iso", value: 100, why: "the base ISO of most cameras" },
  frameGapSeconds: { field: "camera.frameGapSeconds", value: 0.5, why: "a common pace of single frames" },
} as const;

/** What the camera is set to and how it paces, with what is usual where it is not said. */
export function readCamera(camera: BracketCamera, assumptions: Assumption[]) {
  const { aperture, iso, frameGapSeconds } = camera;
  const known = (given: number | undefined, usual: Assumption & { readonly value: number }): number => {
    if (given === undefined) assumptions.push(usual);
    return given ?? usual.value;
  };
  const seconds = (param: keyof ShutterLimits, usual: number): number => {
    const typed = camera[param];
    return typed === undefined ? usual : readShutter(typed, undefined, `camera.${param}`).seconds;
  };
  return {
    aperture: readAperture(known(aperture, USUAL.aperture), undefined, "camera.aperture").exact,
    iso: readIso(known(iso, USUAL.iso), undefined, "camera.iso").exact,
    frameGapSeconds: requireInRange(
      "camera.frameGapSeconds",
      known(frameGapSeconds, USUAL.frameGapSeconds),
      0,
      600,
      "s",
    ),
    fastest: seconds("minShutterSeconds", USUAL_FASTEST_SECONDS),
    longest: seconds("maxShutterSeconds", USUAL_LONGEST_SECONDS),
  };
}
