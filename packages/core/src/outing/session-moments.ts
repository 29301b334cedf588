import { lowerTransits, upperTransits } from "../almanac/culminations";
import { type AltitudeCrossings, findAltitudeCrossings, sunriseAltitudeDeg } from "../almanac/rise-set";
import { CIVIL_TWILIGHT_DEG } from "../almanac/twilight";
import { type LocalDay, parseInstant } from "../instants";
import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg } from "../sky/cloud-lit";
import type { Observer } from "../sky/horizontal";
import type { CloudCover } from "../sky/sky-types";
import { sunTrack } from "../sky/track";
import { keyMoments, type Moment } from "./moments";
import type { SessionScene } from "./scene";
import { givenSpan, namedSpan, type SessionSpan } from "./session";

/** A session as it is asked for: named, or between RFC 3339 instants at most 24 hours apart. */
export type SessionInput = "evening" | "morning" | { readonly from: string; readonly to: string };

const HOUR_MS = 3_600_000;
const MIDDLE_OF_BLUE_HOUR_DEG = -5;

/** The span of a session on a local day, by the sun's transits nearest to the middle of that day. */
export function spanOf(session: SessionInput, day: LocalDay, observer: Observer): SessionSpan {
  if (typeof session !== "string") {
    return givenSpan(parseInstant(session.from, "session.from"), parseInstant(session.to, "session.to"));
  }
  const middleMs = (day.startMs + day.endMs) / 2;
  const sun = sunTrack(middleMs - 30 * HOUR_MS, middleMs + 30 * HOUR_MS, observer);
  const upperMs = nearest(upperTransits(sun, middleMs - 14 * HOUR_MS, middleMs + 14 * HOUR_MS), middleMs);
  return namedSpan(session, {
    lowerBeforeMs: nearest(lowerTransits(sun, upperMs - 14 * HOUR_MS, upperMs - 10 * HOUR_MS), upperMs - 12 * HOUR_MS),
    upperMs,
    lowerAfterMs: nearest(lowerTransits(sun, upperMs + 10 * HOUR_MS, upperMs + 14 * HOUR_MS), upperMs + 12 * HOUR_MS),
  });
}

/** The moments of a session, by its direct light and by the sun's altitude. */
export function momentsOf(
  span: SessionSpan,
  scene: SessionScene,
  eyeHeightM: number,
  cloudCover: CloudCover | undefined,
): Moment[] {
  const crossingsOf = (altitudeDeg: number): AltitudeCrossings =>
    findAltitudeCrossings(scene.sun, span.startMs, span.endMs, altitudeDeg);
  const horizon = crossingsOf(sunriseAltitudeDeg(eyeHeightM));
  const deckM = highestDeckM(cloudCover);
  return keyMoments(span, {
    directLight: scene.directLight,
    sunStaysDown: horizon.kind === "always-below",
    ...instantAs("sunriseMs", horizon, "rising"),
    ...instantAs("sunsetMs", horizon, "falling"),
    ...(deckM === undefined ? {} : instantAs("cloudLitMs", crossingsOf(cloudLitDownToDeg(deckM)))),
    ...instantAs("blueHourMs", crossingsOf(MIDDLE_OF_BLUE_HOUR_DEG)),
    ...instantAs("civilMs", crossingsOf(CIVIL_TWILIGHT_DEG)),
  });
}

// Our own choice: less cloud than this is no deck to wait for
const LEAST_COVER_PERCENT = 10;

/** Height of the highest level that holds cloud worth waiting for [m]; undefined where none does. */
function highestDeckM(cover: CloudCover | undefined): number | undefined {
  if (cover === undefined) return undefined;
  const level = (["high", "middle", "low"] as const).find((one) => cover[one] >= LEAST_COVER_PERCENT);
  return level === undefined ? undefined : CLOUD_DECK_HEIGHTS_M[level];
}

function instantAs<Key extends string>(
  key: Key,
  found: AltitudeCrossings,
  direction?: "rising" | "falling",
): { readonly [K in Key]?: number } {
  if (found.kind !== "crosses") return {};
  const crossing = found.crossings.find((one) => direction === undefined || one.direction === direction);
  return crossing === undefined ? {} : ({ [key]: crossing.instantMs } as { readonly [K in Key]?: number });
}

/** The nearest of some instants, or the wanted one itself near the poles, where a transit may hide. */
function nearest(instantsMs: readonly number[], wantedMs: number): number {
  return [...instantsMs].sort((a, b) => Math.abs(a - wantedMs) - Math.abs(b - wantedMs))[0] ?? wantedMs;
}
