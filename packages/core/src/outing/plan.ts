import { dipDeg } from "../almanac/dip";
import { within } from "../domain-error";
import type { Filter } from "../filters/filter";
import { type SkylineInFrame, skylineInFrame } from "../framing/skyline";
import { flatHorizon } from "../horizon/flat";
import type { HorizonProfile } from "../horizon/profile";
import { localDay, zoneClock } from "../instants";
import { findLightWindows, type Horizon, type LightWindows, type Place, type Subject } from "../light/windows";
import { type Assumption, type Caution, caution } from "../notes";
import { type CloudOutlook, cloudOutlook } from "../sky/cloud-outlook";
import { type DewPoint, dewPoint } from "../sky/dew-point";
import type { Observer, SkyPosition } from "../sky/horizontal";
import { type MoonPhaseName, moonPhase, moonPosition } from "../sky/moon";
import type { SkyState } from "../sky/sky-types";
import { tideCaution } from "../water/tide-caution";
import { type OutingCamera, type PlannedCamera, planCamera } from "./camera";
import { sortKit } from "./kit";
import { longExposures, whenKitReaches } from "./long-exposures";
import { type PackItem, packOf } from "./pack";
import { type OutingMoment, planMoment, SKY_PEAK_STOPS } from "./plan-moment";
import { sessionScene } from "./scene";
import { momentsOf, type SessionInput, spanOf } from "./session-moments";
import { type OutingTide, type OutingTideReport, outingTide } from "./tide";

/** The sky and the air of the session, as a forecast gives them. */
export interface OutingSky extends SkyState {
  /** Of the air [°C]; it bends the light near the horizon, too. */
  readonly temperatureC?: number | undefined;
  /** [%] */
  readonly relativeHumidity?: number | undefined;
}

export interface OutingRequest {
  readonly place: Place;
  /** Local calendar day, YYYY-MM-DD. */
  readonly date: string;
  readonly timeZone: string;
  readonly session: SessionInput;
  readonly camera: OutingCamera;
  readonly subject?: Subject | undefined;
  /** What is in the bag, up to 12 filters. */
  readonly filters?: readonly Filter[] | undefined;
  readonly sky?: OutingSky | undefined;
  readonly horizon: Horizon;
  /** A shutter time that is wanted, as for smooth water [s]. */
  readonly targetShutterSeconds?: number | undefined;
  /** The tide on the shore, looked up beforehand for the whole of the session. */
  readonly tide?: OutingTide | undefined;
}

export interface OutingPlan {
  readonly place: LightWindows["place"];
  readonly date: string;
  readonly timeZone: string;
  readonly arriveBy: string;
  readonly stayUntil: string;
  readonly light: LightWindows;
  /** The skyline in the frame; null where the camera's direction was not given. */
  readonly skyline: SkylineInFrame | null;
  readonly moments: readonly OutingMoment[];
  readonly pack: readonly PackItem[];
  readonly moon: {
    readonly illuminatedFraction: number;
    readonly phase: number;
    readonly phaseName: MoonPhaseName;
    /** Where it stands in the middle of the session. */
    readonly position: SkyPosition;
  };
  /** Whether cloud will take colour; present where cloud is given. */
  readonly cloudOutlook?: CloudOutlook;
  /** Whether the lens will fog; present where temperature and humidity are given. */
  readonly dew?: DewPoint;
  /** What the water does; present where a tide was given. */
  readonly tide?: OutingTideReport;
  /** What can hurt; of dark paths only where the way there or back, two hours at most, is in the dark. */
  readonly cautions: readonly Caution[];
  readonly assumptions: readonly Assumption[];
}

// Common practice: time to choose the spot, set up and frame before the first moment
const SET_UP_MS = 30 * 60_000;
// Our own choice: nobody waits longer for a frame that was not asked for, as of a night under the stars at a landscape's aperture
const LONGEST_FRAME_SECONDS = 3600;
// Common practice: below this sun a path is hard to see without a lamp
const DARK_BELOW_DEG = -3;
// Our own choice, since nobody says how long the way is: as long as most walks to a spot and from it take
const LONGEST_WAY_MS = 2 * 3_600_000;
const WAY_STEP_MS = 30 * 60_000;

/**
 * Plan one evening or morning: when to be there, the moments that count, and for each the light, the contrast, the approach with its
 * reasons, the settings, and the long exposure if one is wanted; and what to pack.
 * @param request place, day and session; camera; what is photographed; the bag; the sky; the skyline; a wanted shutter time [s]
 * @returns moments in order of time, instants as RFC 3339 with the zone's offset
 * @throws DomainError for values out of range; `impossible` where a bracket cannot cover the scene
 * Source: each part's own: `findLightWindows`, `sceneLevels`, `chooseApproach`, `planBracket`, `solveLongExposure`.
 * Accuracy: instants as those of `directLight`; light ±0.5 to ±1.5 stops, said with each moment.
 */
export function planOuting(request: OutingRequest): OutingPlan {
  const { place, date, timeZone, horizon, subject, filters = [], targetShutterSeconds } = request;
  const clock = zoneClock(timeZone);
  const toSecond = (ms: number): string => clock.format(Math.round(ms / 1000) * 1000);
  const assumptions: Assumption[] = [];
  const { temperatureC, relativeHumidity } = request.sky ?? {};
  const atmosphere = temperatureC === undefined ? undefined : { temperatureC };
  const light = findLightWindows({ place, date, timeZone, horizon, subject, atmosphere });
  const camera = planCamera(request.camera, assumptions);
  const kit = sortKit(filters, assumptions);
  const observer: Observer = {
    latitude: place.latitude,
    longitude: place.longitude,
    elevationM: light.place.elevationM,
  };
  const span = spanOf(request.session, localDay(date, timeZone), observer);
  // as the light windows have it: the level horizon dips with the eye height alone
  const { eyeHeightM } = light.place;
  const profile = profileOf(horizon, eyeHeightM);
  const scene = sessionScene({
    span,
    camera: observer,
    subject: {
      ...observer,
      latitude: subject?.latitude ?? place.latitude,
      longitude: subject?.longitude ?? place.longitude,
    },
    profile,
    subjectProfile: subject?.horizon === undefined ? profile : profileOf(subject.horizon, eyeHeightM),
    almanacAltitudeDeg: -dipDeg(eyeHeightM),
    facing:
      subject?.facingAzimuthDeg === undefined
        ? undefined
        : { facingAzimuthDeg: subject.facingAzimuthDeg, slopeDeg: subject.slopeDeg ?? 90 },
    sky: request.sky,
    atmosphere,
  });
  const reachedMs =
    targetShutterSeconds === undefined ? null : whenKitReaches(scene.groundLight(), kit, targetShutterSeconds, camera);
  const moments = momentsOf(span, scene, eyeHeightM, request.sky?.cloudCover);
  if (reachedMs !== null) moments.push({ name: "shutter-reached", instantMs: reachedMs });
  moments.sort((a, b) => a.instantMs - b.instantMs);
  const skylineToward = skylinesInFrame(profile, camera);
  const context = {
    longExposureAt:
      targetShutterSeconds === undefined
        ? undefined
        : longExposures(scene.groundLight(), filters, targetShutterSeconds, camera),
    scene,
    camera,
    kit,
    profile,
    skylineToward,
    sky: request.sky,
    toSecond,
    assumptions,
  };
  const planned = moments.map((moment) => planMoment(moment, context));

  const firstMs = (moments[0] as (typeof moments)[number]).instantMs;
  const lastMs = (moments.at(-1) as (typeof moments)[number]).instantMs;
  const arriveMs = firstMs - SET_UP_MS;
  const stayMs = lastMs + secondsNeeded(planned.at(-1) as OutingMoment) * 1000;
  const isDark = (ms: number): boolean => scene.sun(ms).altitudeDeg < DARK_BELOW_DEG;
  const middleMs = (firstMs + lastMs) / 2;
  const { illuminatedFraction, phase, phaseName } = moonPhase(middleMs);
  const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = moonPosition(middleMs, observer);
  return {
    place: light.place,
    date,
    timeZone,
    arriveBy: toSecond(arriveMs),
    stayUntil: toSecond(stayMs),
    light,
    skyline: request.camera.azimuthDeg === undefined ? null : skylineToward(0),
    moments: planned,
    pack: packOf(planned, camera, (stayMs - arriveMs) / 60_000, [arriveMs, stayMs].some(isDark)),
    moon: { illuminatedFraction, phase, phaseName, position: { azimuthDeg, altitudeDeg, trueAltitudeDeg } },
    ...(request.sky?.cloudCover === undefined ? {} : { cloudOutlook: cloudOutlook(request.sky.cloudCover) }),
    ...(temperatureC === undefined || relativeHumidity === undefined
      ? {}
      : { dew: within("sky", () => dewPoint(temperatureC, relativeHumidity)) }),
    ...(request.tide === undefined ? {} : { tide: outingTide(request.tide, moments, arriveMs, stayMs, toSecond) }),
    cautions: [
      caution("sun-through-optics"),
      ...(waysOf(arriveMs, stayMs, span.endMs).some(isDark) ? [caution("dark-paths")] : []),
      request.tide === undefined ? caution("tide-and-swell") : tideCaution(),
      caution("cliffs-and-mud"),
      caution("wildlife"),
    ],
    assumptions: [
      ...light.assumptions,
      ...distinct(assumptions),
      { field: "setUpMinutes", value: SET_UP_MS / 60_000, why: "time to choose the spot and set up" },
      { field: "skyPeakStops", value: SKY_PEAK_STOPS, why: "bright parts of the sky over its mean" },
    ],
  };
}

function profileOf(horizon: Horizon, eyeHeightM: number): HorizonProfile {
  return horizon.kind === "flat" ? flatHorizon(eyeHeightM) : horizon.profile;
}

/** Instants of the way there and of the way back, as far as the sun's track is good beyond the session [Unix ms]. */
function waysOf(arriveMs: number, stayMs: number, endMs: number): number[] {
  const homeMs = Math.max(stayMs, Math.min(stayMs, endMs) + LONGEST_WAY_MS);
  const ways: number[] = [];
  for (let ms = arriveMs - LONGEST_WAY_MS; ms <= arriveMs; ms += WAY_STEP_MS) ways.push(ms);
  for (let ms = stayMs; ms <= homeMs; ms += WAY_STEP_MS) ways.push(ms);
  return ways;
}

/** The skyline in the frame toward an azimuth; a camera that was pointed sees the same at each moment, which is worked out once. */
function skylinesInFrame(profile: HorizonProfile, camera: PlannedCamera): (azimuthDeg: number) => SkylineInFrame {
  const known = new Map<number, SkylineInFrame>();
  return (azimuthDeg) => {
    const framing = camera.framingToward(azimuthDeg);
    const skyline = known.get(framing.azimuthDeg) ?? skylineInFrame(profile, framing);
    known.set(framing.azimuthDeg, skyline);
    return skyline;
  };
}

/** How long the camera is at work from a moment on [s]. */
function secondsNeeded({ exposure, bracket, longExposure }: OutingMoment): number {
  const frame = Math.min(exposure.shutter.seconds, LONGEST_FRAME_SECONDS);
  return Math.max(frame, bracket?.totalSeconds ?? 0, longExposure?.corrected?.seconds ?? 0);
}

/** Each assumption once: a field that several moments assumed alike is one guess. */
function distinct(assumptions: readonly Assumption[]): Assumption[] {
  const seen = new Map(assumptions.map((assumption) => [`${assumption.field}=${assumption.value}`, assumption]));
  return [...seen.values()];
}
