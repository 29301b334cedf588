import { DomainError, within } from "../domain-error";
import type { Assumption } from "../notes";
import { type HandHeld, handHeldLimitSeconds } from "./hand-held";
import { longestShutterForBlur, type SubjectMotion } from "./motion";
import { readAperture, readShutter } from "./settings";
import { MARK_SLACK_STOPS, USUAL_FASTEST_SECONDS } from "./shutter-limits";

/** What a rung of the ladder can come up against. Those not given do not bind. */
export interface LadderLimits {
  /** Longest shutter that is still held by hand [s]. */
  readonly handHeldSeconds?: number;
  /** Longest shutter that keeps moving things within their blur budget [s]. */
  readonly subjectMotionSeconds?: number;
  /** Shortest shutter that gives the blur that is wanted, as of water [s]. */
  readonly wantedBlurSeconds?: number;
  /** Smallest opening (largest f-number) before diffraction costs sharpness. */
  readonly diffractionAperture?: number;
  /** Widest opening (smallest f-number) that gives the depth of field that is wanted. */
  readonly depthOfFieldAperture?: number;
  /** Fastest shutter of the camera, as marked [s]; default 1/8000 s. */
  readonly minShutterSeconds?: number;
  /** Longest time that the camera counts by itself, as marked [s]; not given: bulb will do. */
  readonly maxShutterSeconds?: number;
}

export type LadderLimit =
  | "hand-held"
  | "subject-motion"
  | "wanted-blur"
  | "diffraction"
  | "depth-of-field"
  | "fastest-shutter"
  | "longest-shutter";

/** The limits of a ladder as plain numbers, or what they are worked out from. */
export interface LadderLimitsInput {
  readonly limits?: LadderLimits;
  /** Lens and hands, where the hand-held limit is to be worked out. */
  readonly handHeld?: HandHeld;
  /** What moves and the smear that is still good [px], where the longest shutter for it is to be worked out. */
  readonly subjectMotion?: SubjectMotion & { readonly blurPx: number };
}

/** A limit ready to be held against rungs. */
export interface LadderCheck {
  readonly limit: LadderLimit;
  /** What the limit is on: the opening alone, or the time, which another ISO can change. */
  readonly on: "aperture" | "shutter";
  /** Margin [stops] for an exact aperture and time. */
  readonly margin: (aperture: number, seconds: number) => number;
}

/** The limits with those that are worked out from lens, hands and what moves. */
function workedOut({ limits = {}, handHeld, subjectMotion }: LadderLimitsInput): LadderLimits {
  const once = (param: "handHeldSeconds" | "subjectMotionSeconds", from: string): void => {
    const given = limits[param];
    if (given === undefined) return;
    throw new DomainError({ param: `limits.${param}`, given, allowed: `this or ${from}, not both` });
  };
  const found: { handHeldSeconds?: number; subjectMotionSeconds?: number } = {};
  if (handHeld !== undefined) {
    once("handHeldSeconds", "handHeld");
    found.handHeldSeconds = within("handHeld", () => handHeldLimitSeconds(handHeld));
  }
  if (subjectMotion !== undefined) {
    once("subjectMotionSeconds", "subjectMotion");
    const longest = within("subjectMotion", () => longestShutterForBlur(subjectMotion, subjectMotion.blurPx));
    if (longest.kind === "limited") found.subjectMotionSeconds = Math.min(1e7, Math.max(1e-6, longest.seconds));
  }
  return Object.assign({}, limits, found);
}

/** The limits of a ladder, ready to be held against its rungs; those not given do not bind, but for the camera's fastest shutter. */
export function checksOf(input: LadderLimitsInput, assumptions: Assumption[]): LadderCheck[] {
  const limits = workedOut(input);
  const seconds = (param: keyof LadderLimits): number | undefined =>
    limits[param] === undefined ? undefined : readShutter(limits[param], undefined, `limits.${param}`).seconds;
  const aperture = (param: keyof LadderLimits): number | undefined =>
    limits[param] === undefined ? undefined : readAperture(limits[param], undefined, `limits.${param}`).exact;

  const checks: LadderCheck[] = [];
  const noLongerThan = (limit: LadderLimit, most: number | undefined, slack = 0): void => {
    if (most !== undefined) checks.push({ limit, on: "shutter", margin: (_, t) => Math.log2(most / t) + slack });
  };
  const noShorterThan = (limit: LadderLimit, least: number | undefined, slack = 0): void => {
    if (least !== undefined) checks.push({ limit, on: "shutter", margin: (_, t) => Math.log2(t / least) + slack });
  };
  noLongerThan("hand-held", seconds("handHeldSeconds"));
  noLongerThan("subject-motion", seconds("subjectMotionSeconds"));
  noShorterThan("wanted-blur", seconds("wantedBlurSeconds"));
  const diffraction = aperture("diffractionAperture");
  if (diffraction !== undefined) {
    checks.push({ limit: "diffraction", on: "aperture", margin: (n) => 2 * Math.log2(diffraction / n) });
  }
  const depth = aperture("depthOfFieldAperture");
  if (depth !== undefined) {
    checks.push({ limit: "depth-of-field", on: "aperture", margin: (n) => 2 * Math.log2(n / depth) });
  }
  if (limits.minShutterSeconds === undefined) {
    const why = "1/8000 s is common among cameras";
    assumptions.push({ field: "limits.minShutterSeconds", value: USUAL_FASTEST_SECONDS, why });
  }
  noShorterThan("fastest-shutter", seconds("minShutterSeconds") ?? USUAL_FASTEST_SECONDS, MARK_SLACK_STOPS);
  noLongerThan("longest-shutter", seconds("maxShutterSeconds"), MARK_SLACK_STOPS);
  return checks;
}
