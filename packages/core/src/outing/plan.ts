import { dipDeg } from "../almanac/dip";
import { within } from "../domain-error";
import { ev100OnCurve } from "../exposure/light-curve";
import type { Filter } from "../filters/filter";
import { type SkylineInFrame, skylineInFrame } from "../framing/skyline";
import { flatHorizon } from "../horizon/flat";
import type { HorizonProfile } from "../horizon/profile";
import { localDay, zoneClock } from "../instants";
import { findLightWindows, type Horizon, type LightWindows, type Place, type Subject } from "../light/windows";
import type { Assumption, Caution } from "../notes";
import { type CloudOutlook, cloudOutlook } from "../sky/cloud-outlook";
import { type DewPoint, dewPoint } from "../sky/dew-point";
import type { Observer, SkyPosition } from "../sky/horizontal";
import { type MoonPhaseName, moonPhase, moonPosition } from "../sky/moon";
import type { SkyState } from "../sky/sky-types";
import { arrivalFor, type TimePart } from "./arrival";
import { temperatureAt } from "./assumed-temperature";
import { type OutingCamera, type PlannedCamera, planCamera } from "./camera";
import { type GroundAround, hazardsOf } from "./hazards";
import { sortKit } from "./kit";
import { type LongExposures, longExposures, overGround } from "./long-exposures";
import type { Moment } from "./moments";
import { nightOf, type OutingNight } from "./night";
import { type PackItem, packOf } from "./pack";
import { polarizerUse, wetLens } from "./pack-reasons";
import { type MomentContext, type OutingMoment, type PlannedMoment, planMoment } from "./plan-moment";
import { type SessionScene, sessionScene } from "./scene";
import { darkEndOf, type SceneKind } from "./scene-kind";
import { type SessionInput, type SessionSpan, spanOf } from "./session";
import { type SessionLightReport, sessionLight } from "./session-light";
import { momentsOf } from "./session-moments";
import { firstReached } from "./shutter-reached";
import { type OutingTide, type OutingTideReport, outingTide } from "./tide";
import { type Verdict, verdictOf } from "./verdict";

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
  /** What the photograph shows below the sky; default open ground. */
  readonly scene?: SceneKind | undefined;
  readonly foreground?: { readonly crossesSkyline?: boolean | undefined } | undefined;
  /** What is in the bag, up to 12 filters. */
  readonly filters?: readonly Filter[] | undefined;
  readonly sky?: OutingSky | undefined;
  readonly horizon: Horizon;
  /** A shutter time that is wanted, as for smooth water [s]. */
  readonly targetShutterSeconds?: number | undefined;
  /** The way from where one parks to the spot [min], 0 to 720; default 15. */
  readonly walkInMinutes?: number | undefined;
  /** The tide on the shore, looked up beforehand for the whole of the session. */
  readonly tide?: OutingTide | undefined;
  /** The ground round the camera, where elevation data tell it. */
  readonly ground?: GroundAround | undefined;
}

export interface OutingPlan {
  /** Go or stay. */
  readonly verdict: Verdict;
  readonly place: LightWindows["place"];
  readonly date: string;
  readonly timeZone: string;
  /** When to be where the walk begins. */
  readonly arriveBy: string;
  /** What lies between that and the first moment. */
  readonly arriveByParts: readonly TimePart[];
  readonly stayUntil: string;
  /** What lies between the last moment and that. */
  readonly stayUntilParts: readonly TimePart[];
  readonly light: LightWindows;
  /** The good light of this session, wherever midnight falls in it. */
  readonly sessionLight: SessionLightReport;
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
  /** Present where it gets dark enough for stars in a span. */
  readonly night?: OutingNight;
  /** Whether cloud will take colour; present where cloud is given. */
  readonly cloudOutlook?: CloudOutlook;
  /** Whether the lens will fog; present where temperature and humidity are given. */
  readonly dew?: DewPoint;
  /** What the water does; present where a tide was given. */
  readonly tide?: OutingTideReport;
  /** What can hurt at this place and time. */
  readonly cautions: readonly Caution[];
  readonly assumptions: readonly Assumption[];
}

// Common practice: below this sun a path is hard to see without a lamp
const DARK_BELOW_DEG = -3;
// Our own choice: the way home begins within two hours
const LONGEST_WAY_MS = 2 * 3_600_000;
const WAY_STEP_MS = 30 * 60_000;

/**
 * Plan one evening, morning or span: whether to go, when to be there, the moments that count, and for each the light, the contrast, the approach with
 * its reasons, the settings, and the long exposure if one is wanted; what to pack and what to beware of.
 * @param request place, day and session; camera; what is photographed; the bag; the sky; the skyline; a wanted shutter time [s]
 * @returns moments in order of time, instants as RFC 3339 with the zone's offset
 * @throws DomainError for values out of range
 * Source: each part's own: `findLightWindows`, `sceneLevels`, `chooseApproach`, `solveLongExposure`.
 * Accuracy: instants as those of `directLight`; light ±0.5 to ±1.5 stops, said with each moment.
 */
export function planOuting(request: OutingRequest): OutingPlan {
  const { place, date, timeZone, horizon, sky, tide } = request;
  const clock = zoneClock(timeZone);
  const toSecond = (ms: number): string => clock.format(Math.round(ms / 1000) * 1000);
  const assumptions: Assumption[] = [];
  const atmosphere = sky?.temperatureC === undefined ? undefined : { temperatureC: sky.temperatureC };
  const light = findLightWindows({ place, date, timeZone, horizon, subject: request.subject, atmosphere });
  const camera = planCamera(request.camera, assumptions);
  const { latitude, longitude, elevationM, eyeHeightM } = light.place;
  const observer: Observer = { latitude, longitude, elevationM };
  const span = spanOf(request.session, localDay(date, timeZone), observer, eyeHeightM);
  // as the light windows have it: the level horizon dips with the eye height alone
  const profile = profileOf(horizon, eyeHeightM);
  const scene = sceneOf(request, span, observer, profile, eyeHeightM);
  const skylineToward = skylinesInFrame(profile, camera);
  const session: Session = { span, scene, camera, profile, skylineToward, eyeHeightM, toSecond, assumptions };
  const { planned, kitHasPolarizer } = planMoments(request, session);
  const moments = planned.map(({ moment }) => moment);
  const stay = stayOf(request, session, planned);
  const temperature = temperatureAt(sky?.temperatureC, light.place, date, assumptions);
  const air = airOf(request);
  const night = span.part === "span" ? nightOf(span, scene, camera, latitude, toSecond) : undefined;
  const moon = moonOf(stay.middleMs, observer);
  const good = sessionLight(span, scene, toSecond);
  return {
    verdict: verdictOf({
      light: good,
      horizon: light.horizon,
      moments,
      wantsSoftLight: darkEndOf(request.scene ?? "open-ground").crossesSkyline || moments.every(showsNoSky),
      minutesLostToTerrain: light.directLight.minutesLostToTerrain,
      cloudCover: sky?.cloudCover,
      cloudOutlook: air.cloudOutlook,
      fogRisk: air.dew?.fogRisk,
      night,
      moonlit: moon.illuminatedFraction,
    }),
    place: light.place,
    date,
    timeZone,
    ...stay.told,
    light,
    sessionLight: good,
    skyline: request.camera.azimuthDeg === undefined ? null : skylineToward(0),
    moments,
    pack: packOf({
      moments,
      camera,
      minutesOutside: (stay.stayMs - stay.arriveMs) / 60_000,
      dark: stay.darkOnTheWay,
      temperature,
      polarizerFor: kitHasPolarizer ? polarizerUse(moments) : undefined,
      wetLens: wetLens(request, air.dew),
    }),
    moon,
    ...(night === undefined ? {} : { night }),
    ...air,
    ...(tide === undefined ? {} : { tide: outingTide(tide, planned, stay.arriveMs, stay.stayMs, toSecond) }),
    cautions: hazardsOf({
      ground: request.ground,
      elevationM,
      hasTide: tide !== undefined,
      darkOnTheWay: stay.darkOnTheWay,
      temperature,
    }),
    assumptions: [...light.assumptions, ...distinct(assumptions)],
  };
}

/** When to be there, and how long. */
interface Stay {
  readonly told: Pick<OutingPlan, "arriveBy" | "arriveByParts" | "stayUntil" | "stayUntilParts">;
  readonly arriveMs: number;
  readonly stayMs: number;
  readonly middleMs: number;
  readonly darkOnTheWay: boolean;
}

function stayOf(
  { walkInMinutes }: OutingRequest,
  { span, scene, toSecond, assumptions }: Session,
  planned: readonly TimedMoment[],
): Stay {
  const first = planned[0] as TimedMoment;
  const last = planned.at(-1) as TimedMoment;
  const isDark = (ms: number): boolean => scene.sun(ms).altitudeDeg < DARK_BELOW_DEG;
  const { arriveMs, parts } = arrivalFor(first.instantMs, walkInMinutes, isDark, assumptions);
  const lastFramesMs = secondsNeeded(last.moment) * 1000;
  const stayMs = last.instantMs + lastFramesMs;
  return {
    told: {
      arriveBy: toSecond(arriveMs),
      arriveByParts: parts,
      stayUntil: toSecond(stayMs),
      stayUntilParts: [{ part: "last-frames", minutes: lastFramesMs / 60_000, why: "the frames of the last moment" }],
    },
    arriveMs,
    stayMs,
    middleMs: (first.instantMs + last.instantMs) / 2,
    darkOnTheWay: waysOf(arriveMs, stayMs, span.endMs).some(isDark),
  };
}

function moonOf(instantMs: number, observer: Observer): OutingPlan["moon"] {
  const { illuminatedFraction, phase, phaseName } = moonPhase(instantMs);
  const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = moonPosition(instantMs, observer);
  return { illuminatedFraction, phase, phaseName, position: { azimuthDeg, altitudeDeg, trueAltitudeDeg } };
}

interface TimedMoment extends PlannedMoment, Moment {}

interface Session {
  readonly span: SessionSpan;
  readonly scene: SessionScene;
  readonly camera: PlannedCamera;
  readonly profile: HorizonProfile;
  readonly skylineToward: (azimuthDeg: number) => SkylineInFrame;
  readonly eyeHeightM: number;
  readonly toSecond: (ms: number) => string;
  readonly assumptions: Assumption[];
}

/** The moments in order of time, with the one at which the wanted time first comes about. */
function planMoments(
  request: OutingRequest,
  session: Session,
): { readonly planned: readonly TimedMoment[]; readonly kitHasPolarizer: boolean } {
  const { span, scene, camera, profile, skylineToward, eyeHeightM, toSecond, assumptions } = session;
  const { filters = [], targetShutterSeconds } = request;
  const kit = sortKit(filters, assumptions);
  const sceneKind = request.scene ?? "open-ground";
  const darkEnd = darkEndOf(sceneKind);
  if (request.scene === undefined) {
    assumptions.push({ field: "scene", value: sceneKind, why: "what the photograph shows below the sky was not said" });
  }
  const long =
    targetShutterSeconds === undefined
      ? undefined
      : longExposures(scene.groundLight(), filters, targetShutterSeconds, camera);
  const context: MomentContext = {
    longExposures: long,
    scene,
    camera,
    kit,
    profile,
    skylineToward,
    sky: request.sky,
    darkEnd,
    crossesSkyline: request.foreground?.crossesSkyline ?? false,
    latitude: request.place.latitude,
    toSecond,
    assumptions,
  };
  const plan = (moment: Moment): TimedMoment => ({ ...moment, ...planMoment(moment, context) });
  const planned = momentsOf(span, scene, eyeHeightM, request.sky?.cloudCover).map(plan);
  const reachedMs = long && reachedBetween(planned, scene, long);
  if (reachedMs !== undefined) planned.push(plan({ name: "shutter-reached", instantMs: reachedMs }));
  planned.sort((a, b) => a.instantMs - b.instantMs);
  return { planned, kitHasPolarizer: kit.polarizer !== null };
}

/** When the wanted shutter time comes about between the moments [Unix ms]. */
function reachedBetween(planned: readonly TimedMoment[], scene: SessionScene, long: LongExposures): number | undefined {
  const { curve } = scene.groundLight();
  const known = planned
    .filter(({ instantMs }) => instantMs < curve.endMs)
    .map(({ instantMs, approach, polarizerHelps }) => ({
      instantMs,
      over: overGround({ ...approach, polarizerHelps }, ev100OnCurve(curve, instantMs)),
    }));
  return firstReached(known, long);
}

function sceneOf(
  { subject, sky }: OutingRequest,
  span: SessionSpan,
  observer: Observer,
  profile: HorizonProfile,
  eyeHeightM: number,
): SessionScene {
  const facingAzimuthDeg = subject?.facingAzimuthDeg;
  return sessionScene({
    span,
    camera: observer,
    subject: {
      ...observer,
      latitude: subject?.latitude ?? observer.latitude,
      longitude: subject?.longitude ?? observer.longitude,
    },
    profile,
    subjectProfile: subject?.horizon === undefined ? profile : profileOf(subject.horizon, eyeHeightM),
    almanacAltitudeDeg: -dipDeg(eyeHeightM),
    facing: facingAzimuthDeg === undefined ? undefined : { facingAzimuthDeg, slopeDeg: subject?.slopeDeg ?? 90 },
    sky,
    atmosphere: sky?.temperatureC === undefined ? undefined : { temperatureC: sky.temperatureC },
  });
}

/** What the sky and the air that were given come to. */
function airOf({ sky }: OutingRequest): Pick<OutingPlan, "cloudOutlook" | "dew"> {
  const { cloudCover, temperatureC, relativeHumidity } = sky ?? {};
  return {
    ...(cloudCover === undefined ? {} : { cloudOutlook: cloudOutlook(cloudCover) }),
    ...(temperatureC === undefined || relativeHumidity === undefined
      ? {}
      : { dew: within("sky", () => dewPoint(temperatureC, relativeHumidity)) }),
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

function showsNoSky({ tones }: OutingMoment): boolean {
  return tones.every(({ name }) => name !== "mean-sky");
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

/** How long the camera is at work from a moment on [s]; a long exposure only counts where it begins in the session's light. */
function secondsNeeded({ exposure, bracket, longExposure }: OutingMoment): number {
  return Math.max(exposure.shutter.seconds, bracket?.totalSeconds ?? 0, longExposure?.corrected?.seconds ?? 0);
}

/** Each assumption once: a field that several moments assumed alike is one guess. */
function distinct(assumptions: readonly Assumption[]): Assumption[] {
  const seen = new Map(assumptions.map((assumption) => [`${assumption.field}=${assumption.value}`, assumption]));
  return [...seen.values()];
}
