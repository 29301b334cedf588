import type { BracketPlan } from "../bracketing/bracket-plan";
import { travelOf } from "../bracketing/bracket-set";
import { type BracketFrame, layFrames } from "../bracketing/lay-frames";
import { planWarnings } from "../bracketing/plan-warnings";
import { ev100FromEv, exposureValue } from "../exposure/exposure-value";
import { readAperture, readIso } from "../exposure/settings";
import { USUAL_FASTEST_SECONDS, USUAL_LONGEST_SECONDS } from "../exposure/shutter-limits";
import { bulbWords } from "../exposure/shutter-words";
import { type ExposureSolution, solveExposure } from "../exposure/solve";
import { frameProjection } from "../framing/projection";
import type { SkylineInFrame } from "../framing/skyline";
import type { HorizonProfile } from "../horizon/profile";
import type { SceneEv100 } from "../light/levels";
import { skylineIn } from "../light/skyline-in-frame";
import type { Assumption } from "../notes";
import type { SkyPosition } from "../sky/horizontal";
import { frameSkyShare } from "../sky/luminance";
import type { SkyState } from "../sky/sky-types";
import { type Approach, type ApproachKind, type ChosenSet, chooseApproach, type GraduatedChoice } from "./approach";
import { type ApproachReason, stopsWords } from "./approach-reasons";
import type { PlannedCamera } from "./camera";
import { fittingFilter } from "./fitting-filter";
import type { Kit } from "./kit";
import { LONGEST_ADVISED_SECONDS, type LongExposurePlan, type LongExposures } from "./long-exposures";
import type { Moment, MomentName } from "./moments";
import { starTrailsOf } from "./night";
import { type PolarizerAdvice, polarizerAdvice } from "./polarizer-advice";
import type { SessionScene } from "./scene";
import type { DarkEnd } from "./scene-kind";
import { namedTones, sceneTones, type Tone } from "./scene-tones";

/** A frame of a bracket, and what it is taken for. */
export interface OutingFrame extends BracketFrame {
  readonly purpose: "sky" | "middle" | "foreground";
}

export interface OutingMoment {
  readonly name: MomentName;
  readonly instant: string;
  readonly sun: SkyPosition;
  /** Whether the sun shines on what is photographed. */
  readonly directLight: boolean;
  /** Whether the sun's disc is in the frame. */
  readonly sunInFrame: boolean;
  /** Whether it shines on the lens from beside the frame. */
  readonly sunBesideFrame: boolean;
  readonly illuminanceLux: number;
  readonly ev100: SceneEv100;
  /** The parts of the photograph, brightest first. */
  readonly tones: readonly Tone[];
  /** The mean sky in the frame over the ground that the photograph shows [stops]. */
  readonly contrastStops: number;
  /** What the levels may be off by [± stops]. */
  readonly uncertaintyStops: number;
  /** [stops/min], negative while the light fades. */
  readonly lightStopsPerMinute: number;
  readonly approach: {
    readonly kind: ApproachKind;
    /** Room left inside what a frame holds well [stops]; negative beyond. */
    readonly marginStops: number;
    readonly reasons: readonly ApproachReason[];
  };
  /** The single frame, or the middle one of the bracket. */
  readonly exposure: Pick<ExposureSolution, "aperture" | "shutter" | "iso" | "ev100" | "warnings">;
  readonly bracket?: Pick<
    BracketPlan,
    "count" | "stepStops" | "totalSeconds" | "coverageStops" | "reasons" | "warnings"
  > & { readonly frames: readonly OutingFrame[] };
  /** Where a polarizer is in the bag and sky in the frame. */
  readonly polarizer?: PolarizerAdvice;
  readonly graduated?: GraduatedChoice;
  readonly longExposure?: LongExposurePlan;
}

/** A moment with what the plan goes on to use. */
export interface PlannedMoment {
  readonly moment: OutingMoment;
  /** What a long exposure is made for [EV100]. */
  readonly approach: Approach;
  readonly polarizerHelps: boolean;
}

export interface MomentContext {
  /** Absent where none is wanted. */
  readonly longExposures: LongExposures | undefined;
  readonly scene: SessionScene;
  readonly camera: PlannedCamera;
  readonly kit: Kit;
  readonly profile: HorizonProfile;
  readonly skylineToward: (azimuthDeg: number) => SkylineInFrame;
  readonly sky: SkyState | undefined;
  readonly darkEnd: DarkEnd;
  /** Whether things in the foreground cross the skyline. */
  readonly crossesSkyline: boolean;
  readonly latitude: number;
  readonly toSecond: (ms: number) => string;
  readonly assumptions: Assumption[];
}

/** The light at one moment, and what it asks of the camera. */
export function planMoment({ name, instantMs }: Moment, context: MomentContext): PlannedMoment {
  const { scene, camera, kit, profile, sky, toSecond, assumptions, latitude } = context;
  const sun = scene.sun(instantMs);
  const framing = camera.framingToward(sun.azimuthDeg);
  const view = camera.viewToward(sun.azimuthDeg);
  const skylineAltitudeDeg = skylineIn(profile, view.azimuthDeg, view.horizontalAngleDeg ?? 54);
  const levels = scene.levelsAt(instantMs, { ...view, skylineAltitudeDeg });
  const lit = scene.isLit(instantMs);
  assumptions.push(...levels.assumptions);
  const seen = scene.sunIsSeen(instantMs) || (lit && name.endsWith("direct-light"));
  const sunAt = frameProjection(framing).toFrame(sun.azimuthDeg, sun.altitudeDeg);
  const sunInFrame = seen && sunAt !== null && isIn(sunAt.x) && isIn(sunAt.y);
  const skyPercent = 100 * frameSkyShare({ ...view, skylineAltitudeDeg });
  const tonesRequest = {
    ev100: levels.ev100,
    lit,
    darkEnd: context.darkEnd,
    sunInFrame,
    skyPercent,
    sunAltitudeDeg: sun.altitudeDeg,
    uncertaintyStops: levels.uncertaintyStops,
  };
  const tones = sceneTones(tonesRequest);
  const polarizer = kit.polarizer === null ? undefined : polarizerAdvice(sun, framing, profile, sky, kit.polarizer);
  const chosen = chooseApproach({
    tones,
    latitude: camera.latitude,
    sets: camera.sets,
    graduated: () =>
      fittingFilter({
        tones,
        bag: kit.graduated,
        skyline: () => context.skylineToward(sun.azimuthDeg),
        framing,
        sun,
        isCrossed: context.crossesSkyline || context.darkEnd.crossesSkyline,
      }),
  });
  const lightStopsPerMinute = scene.stopsPerMinute(instantMs);
  const trailSeconds =
    tones.night && tones.skyInFrame ? starTrailsOf(camera, latitude, sun.azimuthDeg).longestSeconds : undefined;
  const approach = withinReason(chosen, camera, trailSeconds);
  const bracket = approach.set === undefined ? undefined : bracketOf(approach.set, camera, tones.uncertaintyStops);
  const exposure = solveExposure({
    ev100: bracket?.middleEv100 ?? approach.exposeForEv100,
    aperture: camera.aperture,
    iso: camera.iso,
  });
  const polarizerHelps = polarizer === undefined ? skyPercent === 0 : polarizer.verdict.code !== "little-effect";
  const longExposure = context.longExposures?.at(instantMs, { ...approach, polarizerHelps }) ?? null;
  const { aperture, shutter, iso, ev100, warnings } = exposure;
  const moment: OutingMoment = {
    name,
    instant: toSecond(instantMs),
    sun,
    directLight: lit,
    sunInFrame,
    sunBesideFrame: seen && !sunInFrame && facesSun(view.azimuthDeg, sun.azimuthDeg),
    illuminanceLux: levels.illuminanceLux,
    ev100: levels.ev100,
    tones: namedTones(tonesRequest),
    contrastStops: tones.skyEv100 - tones.groundEv100,
    uncertaintyStops: levels.uncertaintyStops,
    lightStopsPerMinute,
    approach: {
      kind: approach.kind,
      marginStops: approach.marginStops,
      reasons: [...approach.reasons, ...fadingReason(bracket?.totalSeconds, lightStopsPerMinute)],
    },
    exposure: { aperture, shutter, iso, ev100, warnings },
    ...(bracket === undefined ? {} : { bracket: withoutMiddle(bracket) }),
    ...(polarizer === undefined ? {} : { polarizer }),
    ...(approach.graduated === undefined ? {} : { graduated: approach.graduated }),
    ...(longExposure === null ? {} : { longExposure }),
  };
  return { moment, approach, polarizerHelps };
}

function isIn(share: number): boolean {
  return share >= 0 && share <= 1;
}

// Common practice: a sun within about 90° of where the lens points shines on its front
function facesSun(azimuthDeg: number, sunAzimuthDeg: number): boolean {
  return Math.abs(((sunAzimuthDeg - azimuthDeg + 540) % 360) - 180) < 90;
}

// Our own choice: so much less exposure than wanted is not seen
const HARDLY_SHORT_STOPS = 0.25;

/** An approach whose times are ones that someone would expose: the stars and fifteen minutes are the limits. */
function withinReason(
  approach: Approach,
  { aperture, iso }: PlannedCamera,
  trailSeconds: number | undefined,
): Approach {
  const limit = Math.min(LONGEST_ADVISED_SECONDS, trailSeconds ?? LONGEST_ADVISED_SECONDS);
  const darkestAllowed = ev100FromEv(exposureValue(readAperture(aperture).exact, limit), readIso(iso).exact);
  const { set, ...rest } = approach;
  const half = set === undefined ? 0 : travelOf(set) / 2;
  if (approach.exposeForEv100 - half >= darkestAllowed) return approach;
  const exposeForEv100 = Math.max(approach.oneFrameEv100, darkestAllowed);
  const short = exposeForEv100 - approach.oneFrameEv100;
  const needsSet = approach.kind === "bracket" || approach.kind === "graduated-and-bracket";
  // one frame that may do does without its set
  if (short < HARDLY_SHORT_STOPS && !needsSet) return { ...rest, exposeForEv100 };
  const stars = trailSeconds !== undefined && trailSeconds < LONGEST_ADVISED_SECONDS;
  const code = stars ? "stars-limit-the-time" : "too-dark-for-these-settings";
  const remedy =
    short < HARDLY_SHORT_STOPS ? "for the set" : `each: open up or raise the ISO by ${stopsWords(short)} together`;
  const text = stars
    ? `Stars draw trails after ${bulbWords(limit)}: the frame is for the sky, and the ground goes dark or into a frame of its own.`
    : `Frames of over ${bulbWords(limit)} would be needed ${remedy}.`;
  return {
    ...rest,
    kind: "beyond-one-set",
    exposeForEv100,
    reasons: [...approach.reasons.filter(({ code: one }) => one !== "night-kept-dark"), { code, text }],
  };
}

type OutingBracket = NonNullable<OutingMoment["bracket"]>;

function withoutMiddle({ middleEv100: _, ...bracket }: OutingBracket & { middleEv100: number }): OutingBracket {
  return bracket;
}

// A common pace of single frames [s]
const FRAME_GAP_SECONDS = 0.5;

/** The frames of a set, its middle on the dial's darker third, so that rounding costs shadows and not highlights. */
function bracketOf(
  set: ChosenSet,
  camera: PlannedCamera,
  uncertaintyStops: number,
): OutingBracket & { middleEv100: number } {
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
  return {
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
    middleEv100,
  };
}

// Our own choice: a third of a stop between first and last frame shows in a blend
const FADES_STOPS = 1 / 3;

function fadingReason(totalSeconds: number | undefined, stopsPerMinute: number): ApproachReason[] {
  const change = ((totalSeconds ?? 0) / 60) * Math.abs(stopsPerMinute);
  if (change < FADES_STOPS) return [];
  const text = `The light changes by ${stopsWords(change)} while the set is taken: begin with the frame for the sky.`;
  return [{ code: "light-fades-during-the-set", text }];
}
