import { cosDeg, RADIANS_PER_DEGREE } from "../angles";
import { requireInRange } from "../domain-error";
import { type CheckedSky, checkedSky } from "../sky/checked-sky";
import { type Daylight, daylightUnder } from "../sky/daylight";
import type { SkyPosition } from "../sky/horizontal";
import { moonIlluminanceLux, moonLuxAt, nightGlowLux, sunLuxAt } from "../sky/illuminance";
import { luminanceUnder, type SkyGlow } from "../sky/luminance";
import type { SkyField, SkyState } from "../sky/sky-types";
import { type Facing, incidenceCosine } from "./direct-light";

/** The moon as a source of light. */
export interface SceneMoon extends SkyPosition {
  /** Angle between sun and earth as seen from the moon [deg], 0 at full, 180 at new. */
  readonly phaseAngleDeg: number;
  /** From the earth's centre [km]; default the mean. */
  readonly distanceKm?: number | undefined;
  /** Whether it shines on the place unhindered; default: whether it is above the level horizon. */
  readonly directLight?: boolean | undefined;
}

/** What lights a place at one moment, and what of it gets there. */
export interface SceneLightRequest {
  readonly sun: SkyPosition;
  readonly moon?: SceneMoon | undefined;
  /** Whether any of the sun's disc is seen from the place. */
  readonly directLight: boolean;
  /** Share of the sky's light that reaches level ground at the place [1], 0 to 1; less than 0.01 is taken as 0.01. */
  readonly skyViewFactor: number;
  /** Cloud and turbidity; a clear sky where absent. */
  readonly sky?: SkyState | undefined;
}

/** What gets to a place, and where it comes from. */
export interface PlaceLight {
  /** On level ground at the place [lx]: beam and sky as they get there. */
  readonly illuminanceLux: number;
  readonly directLux: number;
  readonly diffuseLux: number;
  /** Beams that reach the place, each with its strength on a surface square to it [lx]. */
  readonly beams: readonly { readonly from: SkyPosition; readonly normalLux: number }[];
}

/** The light of a moment, before it falls on anything. */
export interface SceneLight extends PlaceLight {
  /** Mean luminance of the open sky, each direction weighted as level ground weights it [cd/m²]. */
  readonly meanSkyLuminance: number;
  /** Luminance of the sky by direction [cd/m²]. */
  readonly skyLuminance: SkyField;
  /** Luminance of the lit part of the moon's disc [cd/m²]; absent where the moon is not seen, or too thin to tell. */
  readonly moonDiscLuminance?: number;
}

const DARKEST_SKY_VIEW = 0.01;
const NEGLIGIBLE_SHARE = 1e-4;

/**
 * Compute what the sun, the moon and the night sky give a place at one moment.
 * @throws DomainError for a sky view factor or a sky out of range
 * Source and accuracy: the illuminance models of sun and moon, `splitDaylight` and `skyLuminance`.
 */
export function sceneLight(request: SceneLightRequest): SceneLight {
  const { sun, moon, skyViewFactor, sky } = request;
  requireInRange("skyViewFactor", skyViewFactor, 0, 1);
  const checked = checkedSky(sky);
  requireBody(sun);
  if (moon !== undefined) {
    const moonLux = moonIlluminanceLux(moon.trueAltitudeDeg, moon.phaseAngleDeg, moon.distanceKm);
    requireInRange("clearLux", moonLux, 0, 1e6, "lx");
    requireBody(moon);
  }
  return sceneLightUnder(checked, request);
}

function requireBody({ trueAltitudeDeg, altitudeDeg }: SkyPosition): void {
  requireInRange("trueAltitudeDeg", trueAltitudeDeg, -90, 90, "deg");
  requireInRange("altitudeDeg", altitudeDeg, -90, 90, "deg");
}

/** {@link sceneLight} under a sky that was checked, for values in range. */
export function sceneLightUnder(sky: CheckedSky, request: SceneLightRequest): SceneLight {
  const { sun, moon } = request;
  const sunlight = sunlightUnder(sky, sun);
  const moonlight = moon && moonlightUnder(sky, moon);
  const evenLux = nightGlowLux * sky.transmittance;
  const openSkyLux = evenLux + sunlight.diffuseLux + (moonlight?.diffuseLux ?? 0);
  const glows: SkyGlow[] = [{ body: sun, diffuseLux: sunlight.diffuseLux }];
  let moonDisc: number | undefined;
  if (moon !== undefined && moonlight !== undefined) {
    glows.push({ body: moon, diffuseLux: moonlight.diffuseLux });
    const whole = isSeen(moon) && moon.altitudeDeg > WHOLE_DISC_DEG;
    moonDisc = whole ? discLuminance(moonlight.directNormalLux, moon.phaseAngleDeg) : undefined;
  }
  // the moon by day and the sun by night are not worth a pattern of their own
  const least = NEGLIGIBLE_SHARE * openSkyLux;
  const strong = glows.filter(({ diffuseLux }) => diffuseLux >= least);
  const weakLux = glows.reduce((sum, { diffuseLux }) => (diffuseLux < least ? sum + diffuseLux : sum), 0);
  const light = placeLightOf(request, sunlight, moonlight, openSkyLux);
  return {
    illuminanceLux: light.illuminanceLux,
    directLux: light.directLux,
    diffuseLux: light.diffuseLux,
    meanSkyLuminance: openSkyLux / Math.PI,
    skyLuminance: luminanceUnder(sky, strong, evenLux + weakLux),
    beams: light.beams,
    ...(moonDisc === undefined ? {} : { moonDiscLuminance: moonDisc }),
  };
}

/** What of {@link sceneLightUnder} falls on surfaces: at a third of the cost, since the sky needs no pattern. */
export function placeLightUnder(sky: CheckedSky, request: SceneLightRequest): PlaceLight {
  const sunlight = sunlightUnder(sky, request.sun);
  const moonlight = request.moon && moonlightUnder(sky, request.moon);
  const openSkyLux = nightGlowLux * sky.transmittance + sunlight.diffuseLux + (moonlight?.diffuseLux ?? 0);
  return placeLightOf(request, sunlight, moonlight, openSkyLux);
}

function sunlightUnder(sky: CheckedSky, { trueAltitudeDeg, altitudeDeg }: SkyPosition): Daylight {
  return daylightUnder(sky, sunLuxAt(trueAltitudeDeg), altitudeDeg);
}

function moonlightUnder(sky: CheckedSky, moon: SceneMoon): Daylight {
  return daylightUnder(sky, moonLuxAt(moon.trueAltitudeDeg, moon.phaseAngleDeg, moon.distanceKm), moon.altitudeDeg);
}

function isSeen({ directLight, altitudeDeg }: SceneMoon): boolean {
  return directLight ?? altitudeDeg > 0;
}

function placeLightOf(
  { sun, moon, directLight, skyViewFactor }: SceneLightRequest,
  sunlight: Daylight,
  moonlight: Daylight | undefined,
  openSkyLux: number,
): PlaceLight {
  const beams: { from: SkyPosition; normalLux: number }[] = [];
  let directLux = 0;
  if (directLight && sunlight.directNormalLux !== 0) {
    beams.push({ from: sun, normalLux: sunlight.directNormalLux });
    directLux += sunlight.directLux;
  }
  if (moon !== undefined && moonlight !== undefined && isSeen(moon) && moonlight.directNormalLux !== 0) {
    beams.push({ from: moon, normalLux: moonlight.directNormalLux });
    directLux += moonlight.directLux;
  }
  const diffuseLux = openSkyLux * Math.max(DARKEST_SKY_VIEW, skyViewFactor);
  return { illuminanceLux: directLux + diffuseLux, directLux, diffuseLux, beams };
}

// Solid angle of the moon's disc at its mean distance: semidiameter 15.54′ (Explanatory Supplement to the Astronomical
// Almanac, 2013)
const MOON_DISC_SR = Math.PI * ((15.54 / 60) * RADIANS_PER_DEGREE) ** 2;
/** Lower than this the horizon cuts the disc [deg]. */
const WHOLE_DISC_DEG = 0.3;
/** Thinner crescents than this [1] are too near the sun, and the phase law too uncertain. */
const THINNEST_CRESCENT = 0.02;

/** The beam over the solid angle that it comes from: what of the disc is lit. */
function discLuminance(normalLux: number, phaseAngleDeg: number): number | undefined {
  const lit = (1 + cosDeg(phaseAngleDeg)) / 2;
  return normalLux > 0 && lit >= THINNEST_CRESCENT ? normalLux / (MOON_DISC_SR * lit) : undefined;
}

/** Luminance of a matt surface [cd/m²]: by all the light that gets there, and with the beams kept off it. */
export interface SurfaceLuminance {
  readonly lit: number;
  readonly shaded: number;
}

/**
 * How bright a matt surface is: reflectance/π·(beam·cos incidence + sky·sky view). A slope sees less of the sky, (1 +
 * cos s)/2 of it, and in exchange the ground in front of it, which is taken to be as light as itself.
 * @param light of the moment
 * @param reflectance [1], 0.01 to 1
 * @param facing the way the surface looks; level ground where absent
 * @throws DomainError for a reflectance or a slope out of range
 * Source: Lambert's law; view factors of a tilted plane under an even sky (Liu & Jordan 1963, Solar Energy 7:53).
 */
export function surfaceLuminance(light: PlaceLight, reflectance: number, facing?: Facing): SurfaceLuminance {
  requireInRange("reflectance", reflectance, 0.01, 1);
  if (facing !== undefined) requireInRange("subject.slopeDeg", facing.slopeDeg, 0, 180, "deg");
  return surfaceLuminanceIn(light, reflectance, facing);
}

/** {@link surfaceLuminance} of values in range. */
export function surfaceLuminanceIn(light: PlaceLight, reflectance: number, facing?: Facing): SurfaceLuminance {
  if (facing === undefined) {
    return {
      lit: (reflectance * light.illuminanceLux) / Math.PI,
      shaded: (reflectance * light.diffuseLux) / Math.PI,
    };
  }
  const skyShare = (1 + cosDeg(facing.slopeDeg)) / 2;
  const fromGround = (1 - skyShare) * reflectance * light.illuminanceLux;
  const shaded = light.diffuseLux * skyShare + fromGround;
  let beam = 0;
  for (const { from, normalLux } of light.beams) beam += normalLux * Math.max(0, incidenceCosine(from, facing));
  return { lit: (reflectance * (beam + shaded)) / Math.PI, shaded: (reflectance * shaded) / Math.PI };
}
