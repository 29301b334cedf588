import { type SkyCourse, skyCourse } from "../almanac/course";
import { lightCurveFromModel } from "../exposure/light-curve";
import { LightSums } from "../exposure/light-sums";
import { ev100FromLuminance } from "../exposure/metering";
import type { HorizonProfile } from "../horizon/profile";
import { skyViewFactor } from "../horizon/sky-view";
import { interpolateRoundCompass } from "../interpolation";
import { type DirectLightInterval, directLightAlong, type Facing } from "../light/direct-light";
import { USUAL_REFLECTANCE } from "../light/level-assumptions";
import { type SceneLevels, sceneLevels } from "../light/levels";
import { placeLightUnder, type SceneLightRequest, surfaceLuminanceIn } from "../light/scene-light";
import { checkedSky } from "../sky/checked-sky";
import type { Observer, SkyPosition } from "../sky/horizontal";
import type { CameraView } from "../sky/luminance";
import { moonPhase } from "../sky/moon";
import type { Atmosphere } from "../sky/refraction";
import type { SkyState } from "../sky/sky-types";
import { SUN_SEMIDIAMETER_DEG } from "../sky/sun";
import { moonTrack, type SkyTrack, sunTrack } from "../sky/track";
import type { SessionSpan } from "./session";

/** The light over a session at what is photographed. */
export interface SessionScene {
  readonly sun: SkyTrack;
  /** The sun's path over the session, cut at its highest and lowest points. */
  readonly sunCourse: SkyCourse;
  /** Direct sunlight on what is photographed, in order. */
  readonly directLight: readonly DirectLightInterval[];
  isLit(instantMs: number): boolean;
  /** Whether the sun's disc is seen from the camera over the skyline. */
  sunIsSeen(instantMs: number): boolean;
  /** The moon's middle over the camera's skyline [deg]; negative behind it. */
  moonOverRidgeDeg(instantMs: number): number;
  levelsAt(instantMs: number, view: CameraView): SceneLevels;
  /** The light on the ground that is photographed, in the sun or in open shade [EV100], over the session; traced when first asked for. */
  groundLight(): LightSums;
  /** How fast the ground's light goes in the minute from an instant [stops/min], the sun's coming or going left out. */
  stopsPerMinute(instantMs: number): number;
}

export interface SessionSceneRequest {
  readonly span: SessionSpan;
  readonly camera: Observer;
  readonly subject: Observer;
  readonly profile: HorizonProfile;
  readonly subjectProfile: HorizonProfile;
  readonly almanacAltitudeDeg: number;
  readonly facing?: Facing | undefined;
  readonly sky?: SkyState | undefined;
  readonly atmosphere?: Atmosphere | undefined;
}

// Seconds of the sun's way: instants are rounded, and the limb's own refraction differs from the middle's
const TOUCHES_DEG = 0.05;

/** Sun, moon, direct light and brightness over one session, computed once for all its moments. */
export function sessionScene(request: SessionSceneRequest): SessionScene {
  const { span, camera, subject, profile, subjectProfile, almanacAltitudeDeg, facing, sky, atmosphere } = request;
  const { startMs, endMs } = span;
  const sun = sunTrack(startMs, endMs, camera, atmosphere);
  const moon = moonTrack(startMs, endMs, camera, atmosphere);
  const sunCourse = skyCourse(sun, startMs, endMs);
  const isElsewhere = subject.latitude !== camera.latitude || subject.longitude !== camera.longitude;
  const atSubject = isElsewhere ? skyCourse(sunTrack(startMs, endMs, subject, atmosphere), startMs, endMs) : sunCourse;
  const { intervals } = directLightAlong(atSubject, {
    profile: subjectProfile,
    almanacAltitudeDeg,
    ...(facing === undefined ? {} : { facing }),
  });
  const openSky = skyViewFactor(subjectProfile);
  const { phaseAngleDeg } = moonPhase((startMs + endMs) / 2);
  const isLit = (ms: number): boolean => intervals.some((lit) => ms >= lit.startMs && ms <= lit.endMs);
  const overRidgeDeg = ({ azimuthDeg, altitudeDeg }: SkyPosition): number =>
    altitudeDeg - interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
  const clears = (body: SkyPosition): boolean => overRidgeDeg(body) > 0;
  const lightOf = (ms: number, lit: boolean): SceneLightRequest => {
    const moonAt = moon(ms);
    const { azimuthDeg, altitudeDeg, trueAltitudeDeg, distanceKm } = moonAt;
    return {
      sun: sun(ms),
      moon: { azimuthDeg, altitudeDeg, trueAltitudeDeg, distanceKm, phaseAngleDeg, directLight: clears(moonAt) },
      directLight: lit,
      skyViewFactor: openSky,
      sky,
    };
  };
  const checked = checkedSky(sky);
  // the same as of all levels, at a fraction of the cost
  const ground = (ms: number, lit: boolean): number => {
    const luminance = surfaceLuminanceIn(placeLightUnder(checked, lightOf(ms, lit)), USUAL_REFLECTANCE, facing);
    return ev100FromLuminance(lit ? luminance.lit : luminance.shaded);
  };
  let groundLight: LightSums | undefined;
  return {
    sun,
    sunCourse,
    directLight: intervals,
    isLit,
    // a limb that just touches the ridge is seen
    sunIsSeen: (ms) => overRidgeDeg(sun(ms)) > -SUN_SEMIDIAMETER_DEG - TOUCHES_DEG,
    moonOverRidgeDeg: (ms) => overRidgeDeg(moon(ms)),
    levelsAt: (ms, view) => sceneLevels({ ...lightOf(ms, isLit(ms)), camera: view, subject: facing }),
    groundLight: () => {
      // much of the work of a plan, and only long exposures need it
      groundLight ??= new LightSums(lightCurveFromModel((ms) => ground(ms, isLit(ms)), startMs, endMs, 0.01));
      return groundLight;
    },
    stopsPerMinute: (ms) => {
      const lit = isLit(ms);
      return ground(ms + 60_000, lit) - ground(ms, lit);
    },
  };
}
