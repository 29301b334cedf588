import type { BracketPlan } from "../bracketing/bracket-plan";
import { travelOf } from "../bracketing/bracket-set";
import { type BracketFrame, layFrames } from "../bracketing/lay-frames";
import { planWarnings } from "../bracketing/plan-warnings";
import { readAperture, readIso } from "../exposure/settings";
import { USUAL_FASTEST_SECONDS, USUAL_LONGEST_SECONDS } from "../exposure/shutter-limits";
import type { ChosenSet } from "./approach";
import { stopsWords } from "./approach-reasons";
import type { PlannedCamera } from "./camera";

/** A frame of a bracket, and what it is taken for. */
export interface OutingFrame extends BracketFrame {
  readonly purpose: "sky" | "middle" | "foreground";
}

/** A bracket at one moment. */
export interface OutingBracket
  extends Pick<BracketPlan, "count" | "stepStops" | "totalSeconds" | "coverageStops" | "reasons" | "warnings"> {
  readonly frames: readonly OutingFrame[];
}

// A common pace of single frames [s]
const FRAME_GAP_SECONDS = 0.5;

/** The frames of a set, its middle on the dial's darker third, so that rounding costs shadows and not highlights. */
export function bracketOf(
  set: ChosenSet,
  camera: PlannedCamera,
  uncertaintyStops: number,
): { readonly bracket: OutingBracket; readonly middleEv100: number } {
  const { count, stepStops } = set;
  const { latitude } = camera;
  const dialZero = Math.log2((readAperture(camera.aperture).exact ** 2 * 100) / readIso(camera.iso).exact);
  const middleEv100 = dialZero + Math.ceil((set.middleEv100 - dialZero) * 3 - 1e-6) / 3;
  const laid = layFrames({
    count,
    stepStops,
    shiftStops: 0,
    baseEv100: middleEv100,
    dialZero,
    latitude,
    series: "third",
  });
  const purpose = (i: number): OutingFrame["purpose"] =>
    2 * i + 1 < count ? "sky" : 2 * i + 1 === count ? "middle" : "foreground";
  const totalSeconds = laid.reduce((sum, frame) => sum + frame.shutterSeconds, (count - 1) * FRAME_GAP_SECONDS);
  const holds = `${count} frames ${stepStops} ${stepStops === 1 ? "stop" : "stops"} apart hold both ends well, with the ± ${stopsWords(uncertaintyStops)} that the light is known to.`;
  const bracket: OutingBracket = {
    frames: laid.map((frame, i) => ({ ...frame, purpose: purpose(i) })),
    count,
    stepStops,
    totalSeconds,
    coverageStops: travelOf(set) + latitude.headroomStops + latitude.footroomStops,
    reasons: [{ code: "frames", text: holds }],
    warnings: planWarnings({
      frames: laid,
      totalSeconds,
      frameGapSeconds: FRAME_GAP_SECONDS,
      fastest: USUAL_FASTEST_SECONDS,
      longest: USUAL_LONGEST_SECONDS,
      offMarks: false,
      request: {},
    }),
  };
  return { bracket, middleEv100 };
}
