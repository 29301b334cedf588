import { requireInRange } from "../domain-error";
import { ev100FromLuminance } from "../exposure/metering";
import type { Assumption } from "../notes";
import { cloudEffect } from "../sky/cloud";
import { type CameraView, type FrameSky, frameSky, frameSkyLuminance, USUAL_VIEW } from "../sky/luminance";
import { CLEAR_SKY, type CloudCover, type SkyField, type SkyPoint } from "../sky/sky-types";
import type { Facing } from "./direct-light";
import { DEEP_SHADE_SKY_SHARE, levelAssumptions, USUAL_REFLECTANCE } from "./level-assumptions";
import { pointedCamera, type SceneCamera } from "./scene-camera";
import { type SceneLight, type SceneLightRequest, sceneLight, surfaceLuminance } from "./scene-light";
import {
  frameWaterLuminance,
  roundWaterLuminance,
  stillWaterLuminance,
  USUAL_WATER_DEPRESSION_DEG,
} from "./still-water";

export interface SceneLevelsRequest extends SceneLightRequest {
  /** Share of light that the ground throws back [1], 0.01 to 1; default 0.18. */
  readonly reflectance?: number | undefined;
  /** What the camera sees; the sky is taken as a whole where it points nowhere. */
  readonly camera?: SceneCamera | undefined;
  /** The way the ground that matters faces; level where absent. */
  readonly subject?: Facing | undefined;
}

/** How bright the parts of a scene are [EV100]. */
export interface SceneEv100 {
  /** The sky in the frame, its mean; without a camera, the whole sky as level ground sees it. */
  readonly sky: number;
  /** The brightest part of that sky, the glare round sun and moon left out; with the lit edges of cloud where cloud is known. */
  readonly brightestSky: number;
  /** Ground that takes all the light there is: in the beam where the beam gets there, else as open shade. */
  readonly litGround: number;
  /** Ground with the beam kept off it, under the open sky of the place. */
  readonly openShade: number;
  /** Ground that sees an eighth of that sky: under an overhang, in a cleft, beneath trees. */
  readonly deepShade: number;
  /** Still water in the frame, the sky reflected. */
  readonly stillWater: number;
}

export interface SceneLevels {
  /** On level ground at the place [lx]: the beam where it gets there, and as much of the sky as is seen. */
  readonly illuminanceLux: number;
  readonly directLux: number;
  readonly diffuseLux: number;
  readonly ev100: SceneEv100;
  /**
   * The sky in the frame over the ground that the photograph shows: lit ground where the beam gets there, else open
   * shade [stops].
   */
  readonly contrastStops: number;
  /** The lit part of the moon's disc [EV100]; absent where the moon is not seen, or too thin to tell. */
  readonly moonDiscEv100?: number;
  /** What the levels may be off by [± stops]; the contrast likewise. */
  readonly uncertaintyStops: number;
  readonly assumptions: readonly Assumption[];
}

/** The contrast toward one azimuth. */
export interface DirectionContrast {
  readonly azimuthDeg: number;
  /** The sky in a frame that points there [EV100]. */
  readonly skyEv100: number;
  readonly contrastStops: number;
}

// Our own choice: how far above the skyline the sky is read where the frame holds none
const SKY_STRIP_DEG = 2.5;

/**
 * Compute how bright the sky, the ground, the shade and still water are at one moment, and what contrast a frame has to hold.
 *
 * Contrast is the mean of the sky in the frame less the ground that the photograph shows. Once the beam has left, that
 * ground is open shade, and the lit ground of the answer equals it.
 * @param request sun [deg], moon [deg], whether the beam gets there, sky view factor [1], reflectance [1], sky, camera
 * [deg], subject [deg]
 * @returns illuminance [lx], light by part of the scene [EV100, K = 12.5], contrast and uncertainty [stops], and what
 * was assumed
 * @throws DomainError for values out of range
 * Source: see {@link sceneLight}, `skyLuminance`, `surfaceLuminance`. Accuracy: nine in ten of the
 * published scene exposures within half a stop, held by tests/accuracy; for one scene ±1/2 stop by day under a clear
 * sky, ±1 with the sun below the horizon, half a stop more as cloud closes.
 * @example sceneLevels({ sun, directLight: true, skyViewFactor: 1 }).ev100.litGround // 15.12, the sun at 45°
 */
export function sceneLevels(request: SceneLevelsRequest): SceneLevels {
  const levels = levelsIn(sceneLight(request), request);
  return Object.assign(levels, { assumptions: levelAssumptions(request, request.sun.trueAltitudeDeg) });
}

/** {@link sceneLevels} for light that is already known, without what was assumed: for loops. */
export function levelsIn(light: SceneLight, request: SceneLevelsRequest): Omit<SceneLevels, "assumptions"> {
  const { reflectance = USUAL_REFLECTANCE, subject } = request;
  const camera = pointedCamera(request.camera);
  const { lit, shaded } = surfaceLuminance(light, reflectance, subject);
  const water = camera === undefined ? roundWaterLuminance(light.skyLuminance) : waterIn(light.skyLuminance, camera);
  const sky = camera === undefined ? roundSky(light, request) : skyOf(light.skyLuminance, camera, bodiesOf(request));
  const disc = light.moonDiscLuminance;
  const openShade = ev100FromLuminance(shaded);
  const ev100: SceneEv100 = {
    sky: ev100FromLuminance(sky.mean),
    brightestSky: ev100FromLuminance(sky.brightest) + cloudEdgeStops(request),
    litGround: ev100FromLuminance(lit),
    openShade,
    deepShade: openShade + Math.log2(DEEP_SHADE_SKY_SHARE),
    stillWater: ev100FromLuminance(water),
  };
  return {
    illuminanceLux: light.illuminanceLux,
    directLux: light.directLux,
    diffuseLux: light.diffuseLux,
    ev100,
    contrastStops: ev100.sky - ev100.litGround,
    ...(disc === undefined ? {} : { moonDiscEv100: ev100FromLuminance(disc) }),
    uncertaintyStops: uncertaintyStops(request),
  };
}

/**
 * Compute the contrast that a frame would have toward each direction of the compass, the ground being the same.
 * @param request as for {@link sceneLevels}; its camera gives pitch and angles of view
 * @param stepDeg between directions [deg], 1 to 180, fitted to the circle; default 15
 * @throws DomainError for values out of range
 */
export function skyContrastByDirection(request: SceneLevelsRequest, stepDeg = 15): DirectionContrast[] {
  return directionsIn(sceneLight(request), request, stepDeg);
}

/**
 * {@link skyContrastByDirection} for light that is already known.
 * @param skylineAt mean altitude of the skyline [deg] in a frame, by its azimuth and width [deg]; default that of the
 * camera
 */
export function directionsIn(
  light: SceneLight,
  request: SceneLevelsRequest,
  stepDeg = 15,
  skylineAt?: (azimuthDeg: number, widthDeg: number) => number,
): DirectionContrast[] {
  requireInRange("stepDeg", stepDeg, 1, 180, "deg");
  const { camera, reflectance = USUAL_REFLECTANCE, subject } = request;
  const ground = ev100FromLuminance(surfaceLuminance(light, reflectance, subject).lit);
  const width = camera?.horizontalAngleDeg ?? USUAL_VIEW.horizontalAngleDeg;
  const count = Math.round(360 / stepDeg);
  return Array.from({ length: count }, (_, i) => {
    const azimuthDeg = (i * 360) / count;
    const skylineAltitudeDeg = skylineAt?.(azimuthDeg, width) ?? camera?.skylineAltitudeDeg;
    const skyEv100 = ev100FromLuminance(
      skyIn(light.skyLuminance, Object.assign({}, camera, { azimuthDeg, skylineAltitudeDeg })),
    );
    return { azimuthDeg, skyEv100, contrastStops: skyEv100 - ground };
  });
}

function skyIn(luminance: SkyField, camera: CameraView): number {
  const skyline = Math.max(0, camera.skylineAltitudeDeg ?? USUAL_VIEW.skylineAltitudeDeg);
  return frameSkyLuminance(luminance, camera) ?? luminance.toward(camera.azimuthDeg, skyline + SKY_STRIP_DEG);
}

// The sun and the moon have no glare to leave out once they are so far down [deg]
const LOWEST_GLARE_DEG = -6;

/** The sun, or by night the moon: by day the moon's glare is no brighter than the sky. */
function bodiesOf({ sun, moon }: SceneLevelsRequest): SkyPoint[] {
  if (sun.altitudeDeg > LOWEST_GLARE_DEG) return [sun];
  return moon === undefined || moon.altitudeDeg <= LOWEST_GLARE_DEG ? [] : [moon];
}

function skyOf(luminance: SkyField, camera: CameraView, bodies: readonly SkyPoint[]): FrameSky {
  const inFrame = frameSky(luminance, camera, bodies);
  if (inFrame !== undefined) return inFrame;
  const strip = skyIn(luminance, camera);
  return { mean: strip, brightest: strip, share: 0 };
}

/** The same of the whole sky, its brightest part looked for in four wide frames. */
function roundSky(light: SceneLight, request: SceneLevelsRequest): Pick<FrameSky, "mean" | "brightest"> {
  const bodies = bodiesOf(request);
  const quarters = [0, 90, 180, 270].map((azimuthDeg) =>
    skyOf(light.skyLuminance, { azimuthDeg, pitchDeg: 30, horizontalAngleDeg: 90, verticalAngleDeg: 90 }, bodies),
  );
  return { mean: light.meanSkyLuminance, brightest: Math.max(...quarters.map(({ brightest }) => brightest)) };
}

// Our own estimate: the lit edge of a cloud lies about a stop over the sky that it stands in
const CLOUD_EDGE_STOPS = 1;

/** What lit edges of cloud add to the brightest sky [stops]: most where half of the sky is cloud, and none without sun. */
function cloudEdgeStops({ sun, sky }: SceneLevelsRequest): number {
  if (sky?.cloudCover === undefined || sun.altitudeDeg < 0) return 0;
  const broken = (level: keyof CloudCover, cover: CloudCover): number =>
    4 * (cover[level] / 100) * (1 - cover[level] / 100);
  const { cloudCover } = sky;
  return (
    CLOUD_EDGE_STOPS * Math.max(broken("low", cloudCover), broken("middle", cloudCover), broken("high", cloudCover))
  );
}

function waterIn(luminance: SkyField, camera: CameraView): number {
  const skyline = Math.max(0, camera.skylineAltitudeDeg ?? USUAL_VIEW.skylineAltitudeDeg);
  const depressionDeg = Math.min(90, Math.max(USUAL_WATER_DEPRESSION_DEG, skyline + SKY_STRIP_DEG));
  return frameWaterLuminance(luminance, camera) ?? stillWaterLuminance(luminance, camera.azimuthDeg, depressionDeg);
}

// Our own estimate: the scatter of clear skies by day is half a stop; the twilight pattern is good to a stop; the cover
// law and the difference between a mean over broken cloud and what is there at the moment add half a stop
function uncertaintyStops({ sun, sky }: SceneLevelsRequest): number {
  const sunDown = Math.max(0, Math.min(1, 1 - sun.altitudeDeg / 6));
  return 0.5 + 0.5 * sunDown + 0.5 * cloudEffect(sky?.cloudCover ?? CLEAR_SKY).overcastness;
}
