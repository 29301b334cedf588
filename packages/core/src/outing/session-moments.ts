import type { SkyCourse } from "../almanac/course";
import { GOLDEN_HOUR_DEG } from "../almanac/golden-hour";
import { sunriseAltitudeDeg } from "../almanac/rise-set";
import { ASTRONOMICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG } from "../almanac/twilight";
import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg } from "../sky/cloud-lit";
import type { CloudCover } from "../sky/sky-types";
import { keyMoments, type Moment, type Passes } from "./moments";
import { moonOverSkyline } from "./night";
import type { SessionScene } from "./scene";
import type { SessionSpan } from "./session";

const MIDDLE_OF_BLUE_HOUR_DEG = -5;

/** The moments of a session, by its direct light, by the sun's altitude and, at night, by the moon. */
export function momentsOf(
  span: SessionSpan,
  scene: SessionScene,
  eyeHeightM: number,
  cloudCover: CloudCover | undefined,
): Moment[] {
  const passesOf = (altitudeDeg: number): Passes => passes(scene.sunCourse, altitudeDeg);
  const risesAtDeg = sunriseAltitudeDeg(eyeHeightM);
  const deckM = highestDeckM(cloudCover);
  const { highestMs, lowestMs } = extremes(scene.sunCourse);
  return keyMoments(span, {
    directLight: scene.directLight,
    horizon: passesOf(risesAtDeg),
    lowSun: passesOf(GOLDEN_HOUR_DEG[1]),
    cloudLit: deckM === undefined ? {} : passesOf(cloudLitDownToDeg(deckM)),
    middleOfBlueHour: passesOf(MIDDLE_OF_BLUE_HOUR_DEG),
    civil: passesOf(CIVIL_TWILIGHT_DEG),
    nautical: passesOf(NAUTICAL_TWILIGHT_DEG),
    astronomical: passesOf(ASTRONOMICAL_TWILIGHT_DEG),
    ...(span.part === "span" ? moonOverSkyline(span, scene) : {}),
    sunLowestMs: lowestMs,
    sunHighestMs: highestMs,
    sunStaysDown: scene.sun(highestMs).trueAltitudeDeg < risesAtDeg,
  });
}

/** When the sun first passes an altitude each way within a span. */
function passes(sun: SkyCourse, altitudeDeg: number): Passes {
  const found = sun.crossings(altitudeDeg);
  if (found.kind !== "crosses") return {};
  const first = (direction: "rising" | "falling") =>
    found.crossings.find((crossing) => crossing.direction === direction)?.instantMs;
  return { risingMs: first("rising"), fallingMs: first("falling") };
}

/** When the sun is highest and lowest within a span. */
function extremes({ track, cuts }: SkyCourse): { highestMs: number; lowestMs: number } {
  const byAltitude = [...cuts].sort((a, b) => track(a).trueAltitudeDeg - track(b).trueAltitudeDeg);
  return { lowestMs: byAltitude[0] as number, highestMs: byAltitude.at(-1) as number };
}

// Our own choice: less cloud than this is no deck to wait for
const LEAST_COVER_PERCENT = 10;

/** Height of the highest level that holds cloud worth waiting for [m]; undefined where none does. */
function highestDeckM(cover: CloudCover | undefined): number | undefined {
  if (cover === undefined) return undefined;
  const level = (["high", "middle", "low"] as const).find((one) => cover[one] >= LEAST_COVER_PERCENT);
  return level === undefined ? undefined : CLOUD_DECK_HEIGHTS_M[level];
}
