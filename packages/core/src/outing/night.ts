import { ASTRONOMICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG } from "../almanac/twilight";
import { longestBeforeTrailsSeconds, STAR_TRAIL_PIXELS } from "../exposure/star-trails";
import { findRoot } from "../roots";
import type { PlannedCamera } from "./camera";
import type { SessionScene } from "./scene";
import type { SessionSpan } from "./session";

/** A stretch of time. */
export interface Stretch {
  readonly start: string;
  readonly end: string;
}

/** What the night of a session offers. */
export interface OutingNight {
  /** Without sun and moon: the sun under 18° below the horizon, the moon below the ridge. */
  readonly darkHours: readonly Stretch[];
  /** The moon over the ridge, the sun below civil twilight. */
  readonly moonlight: readonly Stretch[];
  /** The longest time before stars draw trails. */
  readonly starTrails: {
    readonly longestSeconds: number;
    /** Of the stars in the frame that move fastest [deg]. */
    readonly declinationDeg: number;
    readonly pixelPitchUm: number;
    /** How far a star may move [px]. */
    readonly pixels: number;
  };
}

const STEP_MS = 10 * 60_000;
const TO_SECOND_MS = 1000;

/** Where the sign of a function of time changes from minus to plus, and back, to the second. */
function positiveStretches(
  of: (ms: number) => number,
  { startMs, endMs }: SessionSpan,
): { startMs: number; endMs: number }[] {
  const stretches: { startMs: number; endMs: number }[] = [];
  let since: number | undefined = of(startMs) > 0 ? startMs : undefined;
  for (let from = startMs; from < endMs; from += STEP_MS) {
    const to = Math.min(endMs, from + STEP_MS);
    const before = of(from);
    const after = of(to);
    if (before > 0 === after > 0) continue;
    const at = findRoot(of, from, to, TO_SECOND_MS, before, after);
    if (after > 0) since = at;
    else if (since !== undefined) {
      stretches.push({ startMs: since, endMs: at });
      since = undefined;
    }
  }
  if (since !== undefined) stretches.push({ startMs: since, endMs });
  return stretches;
}

/** When the moon comes over the skyline, stands highest and goes, while it is dark [Unix ms]. */
export function moonOverSkyline(
  span: SessionSpan,
  scene: SessionScene,
): { moonriseMs?: number; moonHighestMs?: number; moonsetMs?: number } {
  const isDark = (ms: number): boolean => scene.sun(ms).trueAltitudeDeg < CIVIL_TWILIGHT_DEG;
  const [up] = positiveStretches(scene.moonOverRidgeDeg, span);
  if (up === undefined) return {};
  let highestMs = up.startMs;
  for (let ms = up.startMs; ms <= up.endMs; ms += STEP_MS) {
    if (scene.moonOverRidgeDeg(ms) > scene.moonOverRidgeDeg(highestMs)) highestMs = ms;
  }
  const inside = (ms: number): boolean => ms > span.startMs && ms < span.endMs && isDark(ms);
  return {
    ...(inside(up.startMs) ? { moonriseMs: up.startMs } : {}),
    ...(inside(highestMs) && highestMs !== up.startMs && highestMs < up.endMs - STEP_MS
      ? { moonHighestMs: highestMs }
      : {}),
    ...(inside(up.endMs) ? { moonsetMs: up.endMs } : {}),
  };
}

/** The longest time before stars draw trails in the frame toward an azimuth. */
export function starTrailsOf(camera: PlannedCamera, latitude: number, azimuthDeg: number): OutingNight["starTrails"] {
  const { focalLengthMm, pixelPitchUm } = camera;
  const declinationDeg = camera.declinationInFrame(latitude, azimuthDeg);
  return {
    longestSeconds: Math.min(3600, longestBeforeTrailsSeconds({ focalLengthMm, pixelPitchUm, declinationDeg })),
    declinationDeg,
    pixelPitchUm,
    pixels: STAR_TRAIL_PIXELS,
  };
}

/** Present where it gets dark enough for stars in the span. */
export function nightOf(
  span: SessionSpan,
  scene: SessionScene,
  camera: PlannedCamera,
  latitude: number,
  toSecond: (ms: number) => string,
): OutingNight | undefined {
  const darkness = (ms: number): number => ASTRONOMICAL_TWILIGHT_DEG - scene.sun(ms).trueAltitudeDeg;
  const written = (of: (ms: number) => number): Stretch[] =>
    positiveStretches(of, span).map(({ startMs, endMs }) => ({ start: toSecond(startMs), end: toSecond(endMs) }));
  if (positiveStretches(darkness, span).length === 0) return undefined;
  const middleMs = (span.startMs + span.endMs) / 2;
  return {
    darkHours: written((ms) => Math.min(darkness(ms), -scene.moonOverRidgeDeg(ms))),
    moonlight: written((ms) =>
      Math.min(CIVIL_TWILIGHT_DEG - scene.sun(ms).trueAltitudeDeg, scene.moonOverRidgeDeg(ms)),
    ),
    starTrails: starTrailsOf(camera, latitude, scene.sun(middleMs).azimuthDeg),
  };
}
