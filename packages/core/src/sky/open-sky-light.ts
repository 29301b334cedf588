import { atan2Deg, cosDeg, separationDeg, sinDeg } from "../angles";
import { ev100FromIlluminance } from "../exposure/metering";
import { cloudEffect } from "./cloud";
import type { Observer, SkyPosition } from "./horizontal";
import { moonIlluminanceLux, nightGlowLux, sunIlluminanceLux } from "./illuminance";
import { type MoonPosition, moonPosition } from "./moon";
import { CLEAR_SKY, type CloudCover } from "./sky-types";
import { sunPosition } from "./sun";
import { moonTrack, sunTrack } from "./track";

/** The light on level ground under an open sky, and what it is made of. */
export interface OpenSkyLight {
  /** Sun, moon and night sky together [lx]. */
  readonly illuminanceLux: number;
  /** The same, as an incident-light meter held level reads it. */
  readonly ev100: number;
  readonly sunLux: number;
  readonly moonLux: number;
  readonly nightGlowLux: number;
}

// IAU 2012: the astronomical unit [km]
const SUN_DISTANCE_KM = 149_597_870.7;

/**
 * Compute how much light there is on level ground under an open sky at an instant: the sun at any altitude, the moon by its phase and distance, and the
 * glow of the night sky, dimmed by cloud.
 * @param instantMs [Unix ms], years 1900 to 2100
 * @param observer latitude and longitude [deg], elevation [m]
 * @param cloudCover low, middle and high cloud [%]; default clear
 * @throws DomainError for an instant, an observer or a cover out of range
 * Source: {@link sunIlluminanceLux}, {@link moonIlluminanceLux}, {@link nightGlowLux}, `cloudEffect`; EV100 of a flat receptor, ISO 2720.
 * Accuracy: half a stop by day and a stop in twilight under a clear sky; cloud adds its own. Held in tests/core/sky/open-sky-light.spec.ts.
 * @example openSkyLight(Date.UTC(2027, 5, 21, 13), { latitude: 56.6, longitude: -9.4 }).ev100 // 15.3
 */
export function openSkyLight(instantMs: number, observer: Observer, cloudCover: CloudCover = CLEAR_SKY): OpenSkyLight {
  return lightFrom(
    sunPosition(instantMs, observer),
    moonPosition(instantMs, observer),
    cloudEffect(cloudCover).transmittance,
  );
}

/**
 * Make a function for the light of {@link openSkyLight} at any instant of a span, quick enough to be sampled: the model that a light curve is made of.
 * @param startMs first instant [Unix ms]
 * @param endMs last instant [Unix ms]
 * @example lightCurveFromModel((ms) => lightAt(ms).ev100, startMs, endMs), with lightAt = openSkyLightOver(startMs, endMs, observer)
 */
export function openSkyLightOver(
  startMs: number,
  endMs: number,
  observer: Observer,
  cloudCover: CloudCover = CLEAR_SKY,
): (instantMs: number) => OpenSkyLight {
  const sun = sunTrack(startMs, endMs, observer);
  const moon = moonTrack(startMs, endMs, observer);
  const { transmittance } = cloudEffect(cloudCover);
  return (instantMs) => lightFrom(sun(instantMs), moon(instantMs), transmittance);
}

function lightFrom(sun: SkyPosition, moon: MoonPosition, transmittance: number): OpenSkyLight {
  const sunLux = transmittance * sunIlluminanceLux(sun.trueAltitudeDeg);
  const elongation = separationDeg(sun.azimuthDeg, sun.trueAltitudeDeg, moon.azimuthDeg, moon.trueAltitudeDeg);
  // Meeus 1998, Astronomical Algorithms, eq. 48.3
  const phaseAngle = atan2Deg(
    SUN_DISTANCE_KM * sinDeg(elongation),
    moon.distanceKm - SUN_DISTANCE_KM * cosDeg(elongation),
  );
  const moonLux = transmittance * moonIlluminanceLux(moon.trueAltitudeDeg, phaseAngle, moon.distanceKm);
  const glowLux = transmittance * nightGlowLux;
  const illuminanceLux = sunLux + moonLux + glowLux;
  return { illuminanceLux, ev100: ev100FromIlluminance(illuminanceLux), sunLux, moonLux, nightGlowLux: glowLux };
}
