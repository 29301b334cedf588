import type { GraduatedFilter, PolarizerFilter } from "../filters/filter";
import { assessGraduated, type GraduatedAssessment, type GraduatedObstacle } from "../filters/graduated";
import { assessPolarizer, type PolarizerAssessment, type WaterInFrame } from "../filters/polarizer";
import { frameProjection } from "../framing/projection";
import { skylineInFrame } from "../framing/skyline";
import type { HorizonProfile } from "../horizon/profile";
import { skyViewFactor } from "../horizon/sky-view";
import { interpolateRoundCompass } from "../interpolation";
import type { Facing } from "../light/direct-light";
import { type SceneLevels, sceneLevels } from "../light/levels";
import { skylineIn } from "../light/skyline-in-frame";
import { limbAltitudeDeg } from "../light/sun-limb";
import { type Assumption, type Caution, caution } from "../notes";
import type { Observer, SkyPosition } from "../sky/horizontal";
import { type CameraView, USUAL_VIEW } from "../sky/luminance";
import { moonPhase, moonPosition } from "../sky/moon";
import type { SkyPoint, SkyState } from "../sky/sky-types";
import { sunPosition } from "../sky/sun";
import { reflectionStops } from "./fitting-filter";
import { framingOf, type PointedCamera, viewOf } from "./framing-camera";

export interface PolarizerInFrameRequest {
  readonly sun: SkyPoint;
  readonly camera: PointedCamera;
  readonly profile?: HorizonProfile | undefined;
  readonly sky?: SkyState | undefined;
  readonly water?: WaterInFrame | undefined;
  readonly filter?: PolarizerFilter | undefined;
}

export interface PolarizerInFrame extends PolarizerAssessment {
  readonly sun: SkyPoint;
  readonly cautions: readonly Caution[];
}

/**
 * Assess a polarizer ({@link assessPolarizer}) for a camera as people describe it.
 * @throws DomainError for values out of range, named as fields of `camera`, `sun`, `sky`, `water` and `filter`
 */
export function polarizerInFrame(request: PolarizerInFrameRequest): PolarizerInFrame {
  const assumptions: Assumption[] = [];
  const { sun, camera, profile, sky, water, filter } = request;
  const projection = frameProjection(framingOf(camera, assumptions));
  const assessment = assessPolarizer({ sun, projection, profile, sky, water, filter });
  return Object.assign({}, assessment, {
    sun: { azimuthDeg: sun.azimuthDeg, altitudeDeg: sun.altitudeDeg },
    assumptions: [...assumptions, ...assessment.assumptions],
    cautions: [caution("sun-through-optics")],
  });
}

export interface GraduatedInFrameRequest {
  readonly instantMs: number;
  readonly observer: Observer;
  readonly camera: PointedCamera;
  readonly profile: HorizonProfile;
  /** The way the ground that matters faces; level where absent. */
  readonly subject?: Facing | undefined;
  readonly sky?: SkyState | undefined;
  readonly obstacles?: readonly GraduatedObstacle[] | undefined;
  /** The sky over the ground, as it was metered [stops]; default: as {@link sceneLevels} predicts it. */
  readonly contrastStops?: number | undefined;
  readonly residualStops?: number | undefined;
  readonly available?: readonly GraduatedFilter[] | undefined;
}

export interface GraduatedInFrame extends GraduatedAssessment {
  readonly sun: SkyPosition;
  /** What a predicted contrast may be off by [± stops]; absent where it was metered. */
  readonly contrastUncertaintyStops?: number;
  readonly cautions: readonly Caution[];
}

/**
 * Assess a graduated filter ({@link assessGraduated}) at a place and an instant: the skyline drawn into the frame, and the contrast predicted where
 * none was metered.
 * @throws DomainError for values out of range; `impossible` where the frame takes in the zenith or the nadir
 */
export function graduatedInFrame(request: GraduatedInFrameRequest): GraduatedInFrame {
  const { instantMs, observer, profile, obstacles, residualStops, available } = request;
  const assumptions: Assumption[] = [];
  const framing = framingOf(request.camera, assumptions);
  const sun = sunPosition(instantMs, observer);
  const predicted = request.contrastStops === undefined ? levelsAt(request, sun, viewOf(framing)) : undefined;
  if (predicted !== undefined) assumptions.push(...predicted.assumptions);
  const skyline = skylineInFrame(profile, framing);
  const assessment = assessGraduated({
    skyline,
    projection: frameProjection(framing),
    contrastStops: request.contrastStops ?? (predicted as SceneLevels).contrastStops,
    residualStops,
    reflectionStops: predicted && reflectionStops(skyline, predicted.ev100.sky, predicted.ev100.stillWater),
    sun,
    obstacles,
    available,
  });
  return Object.assign({}, assessment, {
    sun: { azimuthDeg: sun.azimuthDeg, altitudeDeg: sun.altitudeDeg, trueAltitudeDeg: sun.trueAltitudeDeg },
    ...(predicted === undefined ? {} : { contrastUncertaintyStops: predicted.uncertaintyStops }),
    assumptions: [...assumptions, ...assessment.assumptions],
    cautions: [caution("sun-through-optics")],
  });
}

function levelsAt(
  { instantMs, observer, profile, sky, subject }: GraduatedInFrameRequest,
  sun: SkyPosition,
  camera: CameraView,
): SceneLevels {
  const skylineAt = ({ azimuthDeg }: SkyPoint): number =>
    interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
  const moon = moonPosition(instantMs, observer);
  const { phaseAngleDeg } = moonPhase(instantMs);
  const width = camera.horizontalAngleDeg ?? USUAL_VIEW.horizontalAngleDeg;
  return sceneLevels({
    sun,
    moon: { phaseAngleDeg, directLight: moon.altitudeDeg > skylineAt(moon), ...moon },
    directLight: limbAltitudeDeg(sun, "upper") > skylineAt(sun),
    skyViewFactor: skyViewFactor(profile),
    sky,
    camera: Object.assign({}, camera, { skylineAltitudeDeg: skylineIn(profile, camera.azimuthDeg, width) }),
    subject,
  });
}
