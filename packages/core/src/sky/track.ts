import { DomainError } from "../domain-error";
import { MS_PER_DAY, requireInstant } from "../time";
import { meanSiderealTime } from "./earth-rotation";
import { altitudeSine, type Observer, type Site, type SkyPosition, siteOf, toHorizontal } from "./horizontal";
import { MOON, type MoonPosition, moonPlace, withMoonDisc } from "./moon";
import type { Atmosphere } from "./refraction";
import { type PlaceAt, sampledPlace } from "./sampled-place";
import { SUN, sunPlace } from "./sun";

/** Where a body stands at each instant [Unix ms] of a span. */
export interface SkyTrack {
  (instantMs: number): SkyPosition;
  /** Sine of the true altitude alone, where a track can tell it for less. */
  readonly altitudeSine?: (instantMs: number) => number;
}

/** A track of the moon, which tells its distance and the size of its disc too. */
export interface MoonTrack extends SkyTrack {
  (instantMs: number): MoonPosition;
}

// Among the stars the sun moves 1° a day and the moon 13°. The interpolation errs by 0.005·(angle moved in a step)^6: 1e-9° for the sun
// in two days, 1e-6° for the moon in half a day.
const SUN_STEP_MS = 2 * MS_PER_DAY;
const MOON_STEP_MS = MS_PER_DAY / 2;

/**
 * Compute the sun's track over a span, for timelines and root finding: the slow part, its geocentric place among the stars, is interpolated; the
 * fast part, the earth's turn, and what hangs on the place, parallax and refraction, stay exact.
 * @param startMs first instant [Unix ms], years 1900 to 2100
 * @param endMs last instant [Unix ms], not before the first; the track is as good for some hours on either side
 * @param observer latitude and longitude [deg], elevation [m]
 * @param atmosphere pressure [hPa] and temperature [°C]
 * @returns a function of the instant [Unix ms], which throws DomainError a day or more outside the span
 * @throws DomainError for an instant, an observer or an atmosphere out of range
 * Accuracy: within 1e-6° of {@link sunPosition}; held in tests/core/sky/track.spec.ts.
 */
export function sunTrack(startMs: number, endMs: number, observer: Observer, atmosphere?: Atmosphere): SkyTrack {
  const site = siteOf(observer, atmosphere);
  const place = slowPart(sunOver, startMs, endMs);
  const out = new Float64Array(3);
  const track = (instantMs: number): SkyPosition => {
    place(instantMs, out);
    return toHorizontal(out[0] as number, out[1] as number, out[2] as number, meanSiderealTime(instantMs), site);
  };
  track.altitudeSine = altitudeSines(place, site);
  return track;
}

/**
 * Compute the moon's track over a span; as {@link sunTrack}, with the moon's distance and the size of its disc.
 * It is the geocentric place that is interpolated, as a vector: that is smooth everywhere, where azimuth and altitude bend sharply near the
 * zenith, right ascension jumps at the equinox, and parallax follows the earth's turn.
 * Accuracy: within 0.00001° of {@link moonPosition}; held in tests/core/sky/track.spec.ts.
 */
export function moonTrack(startMs: number, endMs: number, observer: Observer, atmosphere?: Atmosphere): MoonTrack {
  const site = siteOf(observer, atmosphere);
  const place = slowPart(moonOver, startMs, endMs);
  const out = new Float64Array(3);
  const track = (instantMs: number): MoonPosition => {
    place(instantMs, out);
    const x = out[0] as number;
    const y = out[1] as number;
    const z = out[2] as number;
    return withMoonDisc(toHorizontal(x, y, z, meanSiderealTime(instantMs), site), Math.sqrt(x * x + y * y + z * z));
  };
  track.altitudeSine = altitudeSines(place, site);
  return track;
}

function altitudeSines(place: PlaceAt, site: Site): (instantMs: number) => number {
  const out = new Float64Array(3);
  return (instantMs) => {
    place(instantMs, out);
    return altitudeSine(out[0] as number, out[1] as number, out[2] as number, meanSiderealTime(instantMs), site);
  };
}

type PlaceOver = ReturnType<typeof sampledPlace>;

const sunOver: PlaceOver = /* @__PURE__ */ sampledPlace((instantMs, out) => {
  sunPlace(instantMs);
  out.set(SUN);
}, SUN_STEP_MS);

const moonOver: PlaceOver = /* @__PURE__ */ sampledPlace((instantMs, out) => {
  moonPlace(instantMs);
  out.set(MOON);
}, MOON_STEP_MS);

/** The geocentric place over a span, interpolated. */
function slowPart(placeOver: PlaceOver, startMs: number, endMs: number): PlaceAt {
  requireInstant("startMs", startMs);
  requireInstant("endMs", endMs);
  if (endMs < startMs) throw new DomainError({ param: "endMs", given: endMs, allowed: "startMs or later" });
  return placeOver(startMs, endMs);
}
