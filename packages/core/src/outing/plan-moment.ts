import { type BracketPlan, planBracket } from "../bracketing/bracket-plan";
import { type ExposureSolution, solveExposure } from "../exposure/solve";
import type { SkylineInFrame } from "../framing/skyline";
import type { HorizonProfile } from "../horizon/profile";
import type { SceneEv100 } from "../light/levels";
import type { Assumption } from "../notes";
import type { SkyPosition } from "../sky/horizontal";
import type { SkyState } from "../sky/sky-types";
import { type ApproachKind, chooseApproach, type GraduatedChoice, type Reason, type SceneInterval } from "./approach";
import type { PlannedCamera } from "./camera";
import type { Kit } from "./kit";
import type { LongExposurePlan, longExposures } from "./long-exposures";
import type { Moment, MomentName } from "./moments";
import { type PolarizerAdvice, polarizerAdvice } from "./polarizer-advice";
import type { SessionScene } from "./scene";

export interface OutingMoment {
  readonly name: MomentName;
  readonly instant: string;
  readonly sun: SkyPosition;
  /** Whether the sun shines on what is photographed. */
  readonly directLight: boolean;
  readonly illuminanceLux: number;
  readonly ev100: SceneEv100;
  /** The sky in the frame over the ground that the photograph shows [stops]. */
  readonly contrastStops: number;
  /** What the levels may be off by [± stops]. */
  readonly uncertaintyStops: number;
  /** [stops/min], negative while the light fades. */
  readonly lightStopsPerMinute: number;
  readonly approach: { readonly kind: ApproachKind; readonly reasons: readonly Reason[] };
  /** The single frame, or the middle one of the bracket. */
  readonly exposure: Pick<ExposureSolution, "aperture" | "shutter" | "iso" | "ev100" | "warnings">;
  readonly bracket?: Pick<
    BracketPlan,
    "frames" | "count" | "stepStops" | "totalSeconds" | "coverageStops" | "reasons" | "warnings"
  >;
  /** Where a polarizer is in the bag and sky in the frame. */
  readonly polarizer?: PolarizerAdvice;
  readonly graduated?: GraduatedChoice;
  readonly longExposure?: LongExposurePlan;
}

// Common practice: the bright parts of a sky lie about a stop above its mean
export const SKY_PEAK_STOPS = 1;

export interface MomentContext {
  /** Absent where none is wanted. */
  readonly longExposureAt: ReturnType<typeof longExposures> | undefined;
  readonly scene: SessionScene;
  readonly camera: PlannedCamera;
  readonly kit: Kit;
  readonly profile: HorizonProfile;
  readonly skylineToward: (azimuthDeg: number) => SkylineInFrame;
  readonly sky: SkyState | undefined;
  readonly toSecond: (ms: number) => string;
  readonly assumptions: Assumption[];
}

/** The light at one moment, and what it asks of the camera. */
export function planMoment({ name, instantMs }: Moment, context: MomentContext): OutingMoment {
  const { longExposureAt, scene, camera, kit, profile, skylineToward, sky, toSecond, assumptions } = context;
  const sun = scene.sun(instantMs);
  const levels = scene.levelsAt(instantMs, camera.viewToward(sun.azimuthDeg));
  const lit = scene.isLit(instantMs);
  assumptions.push(...levels.assumptions);
  const framing = camera.framingToward(sun.azimuthDeg);
  // only a graduated filter is laid along it
  const skyline = kit.graduated.length === 0 ? null : skylineToward(sun.azimuthDeg);
  const polarizer = kit.polarizer === null ? undefined : polarizerAdvice(sun, framing, profile, sky, kit.polarizer);
  const approach = chooseApproach(intervalOf(levels.ev100, lit), camera.latitude, skyline, kit);
  const lightStopsPerMinute = scene.stopsPerMinute(instantMs);
  const bracket = approach.kind.endsWith("bracket")
    ? bracketFor(approach.scene, camera, lightStopsPerMinute)
    : undefined;
  const exposure = solveExposure({
    ev100: bracket?.baseEv100 ?? approach.exposeForEv100,
    aperture: camera.aperture,
    iso: camera.iso,
  });
  const longExposure = longExposureAt?.(instantMs) ?? null;
  return {
    name,
    instant: toSecond(instantMs),
    sun,
    directLight: lit,
    illuminanceLux: levels.illuminanceLux,
    ev100: levels.ev100,
    contrastStops: levels.contrastStops,
    uncertaintyStops: levels.uncertaintyStops,
    lightStopsPerMinute,
    approach: { kind: approach.kind, reasons: approach.reasons },
    exposure: {
      aperture: exposure.aperture,
      shutter: exposure.shutter,
      iso: exposure.iso,
      ev100: exposure.ev100,
      warnings: exposure.warnings,
    },
    ...(bracket === undefined ? {} : { bracket: shown(bracket) }),
    ...(polarizer === undefined ? {} : { polarizer }),
    ...(approach.graduated === undefined ? {} : { graduated: approach.graduated }),
    ...(longExposure === null ? {} : { longExposure }),
  };
}

/** What the photograph should hold: from the deep shade to the bright parts of the sky, or to the ground where that is brighter. */
function intervalOf(ev100: SceneEv100, lit: boolean): SceneInterval {
  const groundEv100 = lit ? ev100.litGround : ev100.openShade;
  return {
    shadowEv100: ev100.deepShade,
    highlightEv100: Math.max(ev100.sky + SKY_PEAK_STOPS, groundEv100),
    skyEv100: ev100.sky,
    groundEv100,
  };
}

function bracketFor(scene: SceneInterval, camera: PlannedCamera, lightStopsPerMinute: number): BracketPlan {
  return planBracket({
    shadowEv100: scene.shadowEv100,
    highlightEv100: scene.highlightEv100,
    camera: { aperture: camera.aperture, iso: camera.iso, ...camera.latitude },
    lightStopsPerMinute: Math.max(-20, Math.min(20, lightStopsPerMinute)),
  });
}

function shown({
  frames,
  count,
  stepStops,
  totalSeconds,
  coverageStops,
  reasons,
  warnings,
}: BracketPlan): NonNullable<OutingMoment["bracket"]> {
  return { frames, count, stepStops, totalSeconds, coverageStops, reasons, warnings };
}
