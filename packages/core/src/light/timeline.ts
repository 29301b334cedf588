import { DomainError, requireInRange } from "../domain-error";
import type { LightSample } from "../exposure/light-curve";
import type { HorizonProfile } from "../horizon/profile";
import type { ZoneClock } from "../instants";
import { interpolateRoundCompass } from "../interpolation";
import type { Assumption } from "../notes";
import type { SkyPosition } from "../sky/horizontal";
import { moonPhase } from "../sky/moon";
import type { SkyState } from "../sky/sky-types";
import type { SkyTrack } from "../sky/track";
import type { Facing } from "./direct-light";
import { levelAssumptions } from "./level-assumptions";
import { type DirectionContrast, directionsIn, levelsIn, type SceneEv100, type SceneLevelsRequest } from "./levels";
import type { SceneCamera } from "./scene-camera";
import { type SceneLight, sceneLight } from "./scene-light";
import { skylineIn, withSkyline } from "./skyline-in-frame";
import { limbAltitudeDeg } from "./sun-limb";

export interface TraceLevelsRequest {
  /** First instant [Unix ms]. */
  readonly startMs: number;
  /** Last instant [Unix ms]; a row stands on it where the step leads there. */
  readonly endMs: number;
  /** Between rows [min], 0.1 to 1440; default 1. */
  readonly stepMinutes?: number | undefined;
  readonly sun: SkyTrack;
  /** Moonlight is left out where absent. */
  readonly moon?: SkyTrack | undefined;
  /** From the earth's centre [km]; default the mean. */
  readonly moonDistanceKm?: number | undefined;
  /** The skyline seen from the place. */
  readonly profile: HorizonProfile;
  /** Share of the sky that the skyline leaves [1], 0 to 1. */
  readonly skyViewFactor: number;
  readonly reflectance?: number | undefined;
  readonly sky?: SkyState | undefined;
  readonly camera?: SceneCamera | undefined;
  readonly subject?: Facing | undefined;
  /** Whether each row has the contrast toward each 15° of the compass; default no. */
  readonly directions?: boolean | undefined;
  /** Writes the instants. */
  readonly clock: ZoneClock;
}

export interface LevelRow {
  readonly instant: string;
  readonly sun: SkyPosition;
  readonly moon?: SkyPosition & { readonly illuminatedFraction: number };
  /** Whether any of the sun's disc stands above the skyline. */
  readonly directLight: boolean;
  /** Likewise of the moon; absent where the moon is left out. */
  readonly directMoonlight?: boolean;
  readonly illuminanceLux: number;
  readonly directLux: number;
  readonly diffuseLux: number;
  readonly ev100: SceneEv100;
  readonly contrastStops: number;
  /** The lit part of the moon's disc [EV100]; absent where the moon is not seen. */
  readonly moonDiscEv100?: number;
  /**
   * How fast the light on level ground goes, below 0, or comes [stops/min]: across the row, from the one before to the
   * one after.
   */
  readonly stopsPerMinute: number;
  readonly uncertaintyStops: number;
  readonly directions?: readonly DirectionContrast[];
}

export interface LevelTimeline {
  readonly stepMinutes: number;
  readonly rows: readonly LevelRow[];
  readonly assumptions: readonly Assumption[];
}

/** Most rows of one timeline: more than the minutes of the longest local day. */
export const MOST_LEVEL_ROWS = 2000;
/** Most rows where each carries its directions. */
export const MOST_DIRECTION_ROWS = 200;

const MS_PER_MINUTE = 60_000;
const USUAL_STEP_MINUTES = 1;

/**
 * Trace the light over a span: where sun and moon stand, whether the beam gets there over the skyline, illuminance, the
 * levels of sky, ground, shade and water, the contrast, and how fast the light goes.
 * @param request span [Unix ms], step [min], tracks, skyline [deg], and what {@link sceneLevels} takes
 * @returns rows in order of time, their instants as RFC 3339 with the offset of the clock's zone
 * @throws DomainError for an empty span, too many rows (before any is reckoned), or values out of range
 * Source and accuracy: as {@link sceneLevels}, on the tracks' positions. Held by tests/core/light/timeline.spec.ts.
 */
export function traceLevels(request: TraceLevelsRequest): LevelTimeline {
  return {
    stepMinutes: request.stepMinutes ?? USUAL_STEP_MINUTES,
    rows: levelRows(request),
    assumptions: traceAssumptions(request),
  };
}

/** Compute the rows of {@link traceLevels}. */
export function levelRows(request: TraceLevelsRequest): LevelRow[] {
  const { startMs, stepMinutes = USUAL_STEP_MINUTES, clock, profile } = request;
  const count = levelRowCount(request);
  const sceneAt = scenesOf(request);
  const stepMs = stepMinutes * MS_PER_MINUTE;
  const rows: LevelRow[] = [];
  let before: Scene | undefined;
  let now = sceneAt(startMs);
  for (let i = 0; i < count; i++) {
    const after = i + 1 < count ? sceneAt(startMs + (i + 1) * stepMs) : undefined;
    const { sun, directLight } = now.request;
    rows.push({
      instant: clock.format(startMs + i * stepMs),
      sun,
      ...moonFields(now),
      directLight,
      ...levelsIn(now.light, now.request),
      stopsPerMinute: stopsPerMinute(before, now, after, stepMinutes),
      ...(request.directions === true
        ? {
            directions: directionsIn(now.light, now.request, 15, (azimuth, width) =>
              skylineIn(profile, azimuth, width),
            ),
          }
        : {}),
    });
    before = now;
    now = after ?? now;
  }
  return rows;
}

/**
 * Count how many rows a span makes.
 * @throws DomainError for a step out of range, a span that ends before it begins, or more rows than one timeline has
 */
export function levelRowCount({
  startMs,
  endMs,
  stepMinutes,
  directions,
}: Pick<TraceLevelsRequest, "startMs" | "endMs" | "stepMinutes" | "directions">): number {
  const step = requireInRange("stepMinutes", stepMinutes ?? USUAL_STEP_MINUTES, 0.1, 1440, "min");
  if (!(endMs >= startMs && Number.isFinite(endMs - startMs))) {
    throw new DomainError({ param: "to", given: endMs, allowed: "an instant at or after from" });
  }
  // an end that is a whole number of steps away must not be lost to rounding
  const count = Math.floor((endMs - startMs) / (step * MS_PER_MINUTE) + 1e-9) + 1;
  const most = directions === true ? MOST_DIRECTION_ROWS : MOST_LEVEL_ROWS;
  if (count > most) {
    const param = stepMinutes === undefined ? "to" : "stepMinutes";
    const allowed = `a span and a step that make at most ${most} rows`;
    throw new DomainError({ code: "impossible", param, given: `${count} rows`, allowed });
  }
  return count;
}

/** List what a timeline takes for granted where its request says nothing. */
export function traceAssumptions(request: TraceLevelsRequest): readonly Assumption[] {
  const { startMs, endMs, sun, camera, profile } = request;
  // artificial light matters if the sun gets low at any time: its lowest of a few instants tells
  const samples = Array.from({ length: 9 }, (_, i) => sun(startMs + ((endMs - startMs) * i) / 8).trueAltitudeDeg);
  const assumptions = levelAssumptions(
    { ...request, camera: camera === undefined ? undefined : withSkyline(camera, profile) },
    Math.min(...samples),
  );
  if (request.moon !== undefined) return assumptions;
  return [...assumptions, { field: "moon", value: "left out", why: "no track of the moon was given" }];
}

/**
 * Make a light curve of one part of the scene through a timeline, as exposures through changing light take it.
 * @param timeline at least two rows
 * @param part of the scene; default the ground, which is what fades
 * @returns samples [Unix ms, EV100] in order of time
 */
export function lightCurveOf(timeline: LevelTimeline, part: keyof SceneEv100 = "litGround"): LightSample[] {
  return timeline.rows.map(({ instant, ev100 }) => ({ instantMs: Date.parse(instant), ev100: ev100[part] }));
}

interface Scene {
  readonly request: SceneLevelsRequest;
  readonly light: SceneLight;
  readonly illuminatedFraction: number;
}

function scenesOf(request: TraceLevelsRequest): (instantMs: number) => Scene {
  const { profile, sky, subject, reflectance, skyViewFactor, moonDistanceKm: distanceKm } = request;
  const camera = request.camera === undefined ? undefined : withSkyline(request.camera, profile);
  return (instantMs) => {
    const sun = request.sun(instantMs);
    const directLight = isSeen(sun, profile);
    const sunlit = { sun, directLight, skyViewFactor, sky, camera, subject, reflectance };
    if (request.moon === undefined) return { request: sunlit, light: sceneLight(sunlit), illuminatedFraction: 0 };
    const position = request.moon(instantMs);
    const { phaseAngleDeg, illuminatedFraction } = moonPhase(instantMs);
    const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = position;
    const isUp = isSeen(position, profile);
    const moon = { azimuthDeg, altitudeDeg, trueAltitudeDeg, phaseAngleDeg, distanceKm, directLight: isUp };
    const moonlit = { moon, ...sunlit };
    return { request: moonlit, light: sceneLight(moonlit), illuminatedFraction };
  };
}

/** Sun and moon are alike to a tenth of their semidiameters here: the mean disc stands for both. */
function isSeen(body: SkyPosition, { azimuthsDeg, altitudesDeg }: HorizonProfile): boolean {
  return limbAltitudeDeg(body, "upper") > interpolateRoundCompass(azimuthsDeg, altitudesDeg, body.azimuthDeg);
}

function moonFields({ request, illuminatedFraction }: Scene): Partial<LevelRow> {
  if (request.moon === undefined) return {};
  const { azimuthDeg, altitudeDeg, trueAltitudeDeg, directLight = false } = request.moon;
  return { moon: { azimuthDeg, altitudeDeg, trueAltitudeDeg, illuminatedFraction }, directMoonlight: directLight };
}

function stopsPerMinute(before: Scene | undefined, now: Scene, after: Scene | undefined, stepMinutes: number): number {
  const steps = (before === undefined ? 0 : 1) + (after === undefined ? 0 : 1);
  if (steps === 0) return 0;
  const ratio = (after ?? now).light.illuminanceLux / (before ?? now).light.illuminanceLux;
  return Math.log2(ratio) / (steps * stepMinutes);
}
