import { Body, Equator, Horizon, Observer, SearchRiseSet } from "astronomy-engine";
import type { Ground, Spot } from "./ground";

// The sun's mean semidiameter, as in the almanacs' rise and set.
const SEMIDIAMETER_DEG = 16 / 60;

export interface Evening {
  /** Spans with some of the disc above the skyline [minutes of UTC]. */
  readonly lit: readonly { readonly start: number; readonly end: number }[];
  /** The almanac's sunset [minutes of UTC]. */
  readonly sunset: number;
}

/** Direct light at a spot from 16:00 to 23:00 UTC, in steps of 20 s, by an independent ephemeris. */
export function watchEvening(ground: Ground, spot: Spot, date: string): Evening {
  const observer = new Observer(spot.latitude, spot.longitude, 0);
  const start = new Date(`${date}T16:00:00Z`);
  const minutes = (instant: Date): number => (instant.getTime() - Date.parse(`${date}T00:00:00Z`)) / 60_000;
  const lit: { start: number; end: number }[] = [];
  let wasLit = false;
  for (let second = 0; second <= 7 * 3600; second += 20) {
    const instant = new Date(start.getTime() + second * 1000);
    const { ra, dec } = Equator(Body.Sun, instant, observer, true, true);
    const { azimuth, altitude } = Horizon(instant, observer, ra, dec, "normal");
    const upperLimb = altitude + SEMIDIAMETER_DEG;
    // nothing on the island stands higher than this from its shore in the west
    const isLit = upperLimb > 8 || (upperLimb > -1 && upperLimb > ground.skylineDeg(spot, azimuth));
    if (isLit && !wasLit) lit.push({ start: minutes(instant), end: minutes(instant) });
    const last = lit.at(-1);
    if (isLit && last !== undefined) last.end = minutes(instant);
    wasLit = isLit;
  }
  const set = SearchRiseSet(Body.Sun, observer, -1, start, 1);
  if (set === null) throw new Error(`the sun does not set on ${date}`);
  return { lit, sunset: minutes(set.date) };
}
