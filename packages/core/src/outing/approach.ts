import type { GraduatedTransition } from "../filters/filter";
import { LARGEST_STRAY_PERCENT } from "../filters/graduated-transition";
import type { SkylineInFrame } from "../framing/skyline";
import type { Kit } from "./kit";

export type ApproachKind = "single" | "graduated" | "bracket" | "graduated-and-bracket";

export type ReasonCode =
  | "scene-fits-one-frame"
  | "scene-exceeds-one-frame"
  | "skyline-straight-enough"
  | "skyline-too-uneven"
  | "no-skyline-in-frame"
  | "no-graduated-filter"
  | "sky-not-brighter"
  | "graduated-enough"
  | "graduated-not-enough";

/** Why an approach was chosen, one step of the reasoning. */
export interface Reason {
  readonly code: ReasonCode;
  readonly text: string;
}

export interface SceneInterval {
  /** The darkest part that should keep its drawing [EV100]. */
  readonly shadowEv100: number;
  /** The brightest part that should keep its drawing [EV100]. */
  readonly highlightEv100: number;
  readonly skyEv100: number;
  /** The ground that the photograph shows, lit or in shade [EV100]. */
  readonly groundEv100: number;
}

export interface GraduatedChoice {
  readonly stops: number;
  readonly transition: GraduatedTransition;
  /** As the filter is marked. */
  readonly mark: string;
  /** How far the filter is turned to lie along the skyline [deg], clockwise positive. */
  readonly tiltDeg: number;
}

export interface Approach {
  readonly kind: ApproachKind;
  readonly reasons: readonly Reason[];
  readonly graduated?: GraduatedChoice;
  /** The exposure that the settings are made for [EV100]: one frame, or the middle of the bracket. */
  readonly exposeForEv100: number;
  /** What is left to cover once a graduated filter has darkened the sky. */
  readonly scene: SceneInterval;
}

/** The least that one decimal place shows [stops]. */
const LEAST_TOLD_STOPS = 0.05;

/**
 * Choose between one frame, a graduated filter, a bracket, or both: by the range of the scene against what the sensor holds, the skyline, and the bag.
 * A graduated filter is taken only where it lies along the skyline and leaves the sky no darker than the ground.
 * The choice follows common practice; the limits of straightness are our own.
 * @param scene darkest and brightest part, sky and ground [EV100]
 * @param sensor stops that the sensor holds above and below the exposure
 * @param skyline the skyline in the frame, or null where the camera's direction is not known
 */
export function chooseApproach(
  scene: SceneInterval,
  sensor: { readonly headroomStops: number; readonly footroomStops: number },
  skyline: SkylineInFrame | null,
  kit: Kit,
): Approach {
  const holds = sensor.headroomStops + sensor.footroomStops;
  const range = scene.highlightEv100 - scene.shadowEv100;
  if (range <= holds) {
    const text = `The scene spans ${stops(range)}; one frame holds ${stops(holds)}.`;
    return {
      kind: "single",
      reasons: [{ code: "scene-fits-one-frame", text }],
      exposeForEv100: exposureWithin(scene, sensor),
      scene,
    };
  }
  const reasons: Reason[] = [
    {
      code: "scene-exceeds-one-frame",
      text: `The scene spans ${stops(range)}, ${range - holds < LEAST_TOLD_STOPS ? "just" : stops(range - holds)} more than one frame holds.`,
    },
  ];
  const graduated = fittingFilter(scene, range - holds, skyline, kit, reasons);
  if (graduated === undefined) return { kind: "bracket", reasons, exposeForEv100: middle(scene), scene };

  const darkened = darkenSky(scene, graduated.stops);
  const rest = darkened.highlightEv100 - darkened.shadowEv100 - holds;
  if (rest <= 0) {
    reasons.push({
      code: "graduated-enough",
      text: `A graduated filter of ${stops(graduated.stops)} (${graduated.transition}) brings it into one frame.`,
    });
    return { kind: "graduated", reasons, graduated, exposeForEv100: exposureWithin(darkened, sensor), scene: darkened };
  }
  reasons.push({
    code: "graduated-not-enough",
    text: `A graduated filter of ${stops(graduated.stops)} still leaves ${stops(rest)} too much: bracket through it.`,
  });
  return { kind: "graduated-and-bracket", reasons, graduated, exposeForEv100: middle(darkened), scene: darkened };
}

/** The weakest filter that is strong enough, else the strongest, among those that fit; adds why to `reasons`. */
function fittingFilter(
  scene: SceneInterval,
  excessStops: number,
  skyline: SkylineInFrame | null,
  kit: Kit,
  reasons: Reason[],
): GraduatedChoice | undefined {
  const skyOverGround = scene.skyEv100 - scene.groundEv100;
  if (kit.graduated.length === 0) {
    reasons.push({ code: "no-graduated-filter", text: "No graduated filter is in the bag: bracket." });
    return undefined;
  }
  if (skyline === null || skyline.line === null) {
    reasons.push({
      code: "no-skyline-in-frame",
      text: "No skyline is known in the frame to lay a graduated filter along.",
    });
    return undefined;
  }
  const { residualRmsPercent, tiltDeg } = skyline.line;
  const straight = kit.graduated.filter(({ transition }) => residualRmsPercent <= LARGEST_STRAY_PERCENT[transition]);
  const stray = `The skyline strays ${residualRmsPercent.toFixed(1)} % of the frame's height from a straight line`;
  if (straight.length === 0) {
    reasons.push({
      code: "skyline-too-uneven",
      text: `${stray}: a graduated filter would darken what stands across it.`,
    });
    return undefined;
  }
  const natural = straight.filter((filter) => filter.graduatedStops <= skyOverGround);
  if (natural.length === 0) {
    const text = `The sky is ${stops(skyOverGround)} brighter than the ground: each graduated filter would turn that round.`;
    reasons.push({ code: "sky-not-brighter", text });
    return undefined;
  }
  reasons.push({ code: "skyline-straight-enough", text: `${stray}: straight enough for a graduated filter.` });
  const strongest = natural.at(-1) as (typeof natural)[number];
  const taken = natural.find((filter) => filter.graduatedStops >= excessStops) ?? strongest;
  return { stops: taken.graduatedStops, transition: taken.transition, mark: taken.mark, tiltDeg };
}

function darkenSky(scene: SceneInterval, filterStops: number): SceneInterval {
  const skyEv100 = scene.skyEv100 - filterStops;
  const skyWasBrightest = scene.highlightEv100 - Math.max(scene.skyEv100, scene.groundEv100);
  return { ...scene, skyEv100, highlightEv100: Math.max(skyEv100, scene.groundEv100) + Math.max(0, skyWasBrightest) };
}

/** As the ground is metered, unless highlights or shadows ask otherwise; where both do, highlights come first. */
function exposureWithin(
  scene: SceneInterval,
  { headroomStops, footroomStops }: { readonly headroomStops: number; readonly footroomStops: number },
): number {
  const holdsShadows = Math.min(scene.groundEv100, scene.shadowEv100 + footroomStops);
  return Math.max(holdsShadows, scene.highlightEv100 - headroomStops);
}

function middle(scene: SceneInterval): number {
  return (scene.shadowEv100 + scene.highlightEv100) / 2;
}

function stops(value: number): string {
  return `${value.toFixed(1)} stops`;
}
