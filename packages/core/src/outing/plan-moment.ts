import { type ExposureSolution, solveExposure } from "../exposure/solve";
import type { SkylineInFrame } from "../framing/skyline";
import type { HorizonProfile } from "../horizon/profile";
import type { SceneEv100 } from "../light/levels";
import type { Assumption } from "../notes";
import type { SkyPosition } from "../sky/horizontal";
import type { SkyState } from "../sky/sky-types";
import { type Approach, type ApproachKind, chooseApproach, type GraduatedChoice } from "./approach";
import { type ApproachReason, stopsWords } from "./approach-reasons";
import type { PlannedCamera } from "./camera";
import { fittingFilter } from "./fitting-filter";
import type { Kit } from "./kit";
import type { LongExposurePlan, LongExposures } from "./long-exposures";
import { bracketOf, type OutingBracket } from "./moment-bracket";
import type { Moment, MomentName } from "./moments";
import { starTrailsOf } from "./night";
import { type PolarizerAdvice, polarizerAdvice } from "./polarizer-advice";
import type { SessionScene } from "./scene";
import { type SceneAt, sceneAt } from "./scene-at";
import type { DarkEnd } from "./scene-kind";
import { namedTones, type Tone } from "./scene-tones";
import { withinTimeLimits } from "./time-limits";

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
  readonly bracket?: OutingBracket;
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
  const { scene, camera, kit, profile, sky, toSecond } = context;
  const seen = sceneAt(instantMs, name.endsWith("direct-light"), context);
  const { sun, framing, levels, tones } = seen;
  context.assumptions.push(...levels.assumptions);
  const polarizer = kit.polarizer === null ? undefined : polarizerAdvice(sun, framing, profile, sky, kit.polarizer);
  const approach = approachTo(seen, context);
  const set = approach.set && bracketOf(approach.set, camera, tones.uncertaintyStops);
  const { aperture, iso } = camera;
  const exposure = solveExposure({ ev100: set?.middleEv100 ?? approach.exposeForEv100, aperture, iso });
  const polarizerHelps = polarizer === undefined ? seen.skyPercent === 0 : polarizer.verdict.code !== "little-effect";
  const longExposure = context.longExposures?.at(instantMs, { ...approach, polarizerHelps }) ?? null;
  const lightStopsPerMinute = scene.stopsPerMinute(instantMs);
  const moment: OutingMoment = {
    name,
    instant: toSecond(instantMs),
    sun,
    directLight: seen.lit,
    sunInFrame: seen.sunInFrame,
    sunBesideFrame: seen.sunBesideFrame,
    illuminanceLux: levels.illuminanceLux,
    ev100: levels.ev100,
    tones: namedTones(seen.tonesRequest),
    contrastStops: tones.skyEv100 - tones.groundEv100,
    uncertaintyStops: levels.uncertaintyStops,
    lightStopsPerMinute,
    approach: {
      kind: approach.kind,
      marginStops: approach.marginStops,
      reasons: [...approach.reasons, ...fadingReason(set?.bracket.totalSeconds, lightStopsPerMinute)],
    },
    exposure: {
      aperture: exposure.aperture,
      shutter: exposure.shutter,
      iso: exposure.iso,
      ev100: exposure.ev100,
      warnings: exposure.warnings,
    },
    ...(set === undefined ? {} : { bracket: set.bracket }),
    ...(polarizer === undefined ? {} : { polarizer }),
    ...(approach.graduated === undefined ? {} : { graduated: approach.graduated }),
    ...(longExposure === null ? {} : { longExposure }),
  };
  return { moment, approach, polarizerHelps };
}

/** How to hold the scene, by times that someone would expose. */
function approachTo({ sun, framing, tones }: SceneAt, context: MomentContext): Approach {
  const { camera, kit, darkEnd, crossesSkyline, latitude } = context;
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
        isCrossed: crossesSkyline || darkEnd.crossesSkyline,
      }),
  });
  const showsStars = tones.night && tones.skyInFrame;
  const trailSeconds = showsStars ? starTrailsOf(camera, latitude, sun.azimuthDeg).longestSeconds : undefined;
  return withinTimeLimits(chosen, camera, trailSeconds);
}

// Our own choice: a third of a stop between first and last frame shows in a blend
const FADES_STOPS = 1 / 3;

function fadingReason(totalSeconds: number | undefined, stopsPerMinute: number): ApproachReason[] {
  const change = ((totalSeconds ?? 0) / 60) * Math.abs(stopsPerMinute);
  if (change < FADES_STOPS) return [];
  const text = `The light changes by ${stopsWords(change)} while the set is taken: begin with the frame for the sky.`;
  return [{ code: "light-fades-during-the-set", text }];
}
