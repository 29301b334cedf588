import { atanDeg, cosDeg, sinDeg, tanDeg } from "../angles";
import { requireInRange } from "../domain-error";
import { type CheckedSky, checkedSky } from "./checked-sky";
import { patternUnder } from "./sky-pattern";
import { type SkyField, type SkyPoint, type SkyState, skyField } from "./sky-types";

/** One body's light in the sky. */
export interface SkyGlow {
  /** The sun or the moon: apparent azimuth and altitude [deg]. */
  readonly body: SkyPoint;
  /** What its light scattered in the sky gives level ground [lx]. */
  readonly diffuseLux: number;
}

/** Which part of the world a camera sees, as far as brightness needs it: a level horizon, no lens distortion. */
export interface CameraView {
  /** Where the axis points [deg clockwise from true north]. */
  readonly azimuthDeg: number;
  /** Up is positive [deg], -90 to 90; default 0. */
  readonly pitchDeg?: number | undefined;
  /** [deg], 0.001 to 179.9; default 54, a 35 mm lens on 36 × 24 mm. */
  readonly horizontalAngleDeg?: number | undefined;
  /** [deg], 0.001 to 179.9; default 38, likewise. */
  readonly verticalAngleDeg?: number | undefined;
  /** Altitude of the skyline in the frame [deg], -10 to 89; default 0. */
  readonly skylineAltitudeDeg?: number | undefined;
}

/** Angles of view of a 35 mm lens on 36 × 24 mm, 2·atan(d/2f), to a degree. */
export const USUAL_VIEW = { pitchDeg: 0, horizontalAngleDeg: 54, verticalAngleDeg: 38, skylineAltitudeDeg: 0 } as const;

/** A camera's view with every field set and checked. */
export type WholeCameraView = { readonly [Field in keyof CameraView]-?: number };

/**
 * Complete a camera's view: what it leaves out is taken from {@link USUAL_VIEW}.
 * @throws DomainError for an angle out of range
 */
export function wholeCameraView(camera: CameraView): WholeCameraView {
  const {
    azimuthDeg,
    pitchDeg = USUAL_VIEW.pitchDeg,
    horizontalAngleDeg = USUAL_VIEW.horizontalAngleDeg,
    verticalAngleDeg = USUAL_VIEW.verticalAngleDeg,
    skylineAltitudeDeg = USUAL_VIEW.skylineAltitudeDeg,
  } = camera;
  requireInRange("camera.azimuthDeg", azimuthDeg, -360, 720, "deg");
  requireInRange("camera.pitchDeg", pitchDeg, -90, 90, "deg");
  requireInRange("camera.horizontalAngleDeg", horizontalAngleDeg, 0.001, 179.9, "deg");
  requireInRange("camera.verticalAngleDeg", verticalAngleDeg, 0.001, 179.9, "deg");
  requireInRange("camera.skylineAltitudeDeg", skylineAltitudeDeg, -10, 89, "deg");
  return { azimuthDeg, pitchDeg, horizontalAngleDeg, verticalAngleDeg, skylineAltitudeDeg };
}

/**
 * Compute the luminance of the sky under the light of the sun, the moon, or both, over an even glow.
 * @param glows what lights the sky, each with its diffuse illuminance [lx], 0 or more
 * @param sky cloud and turbidity; clear where absent
 * @param evenLux illuminance from a glow that is the same all over, such as airglow [lx], 0 or more
 * @returns luminance by direction [cd/m²]; the discs of sun and moon are not in it
 * @throws DomainError outside those ranges
 * Source: {@link skyPattern}, scaled to the illuminance. Accuracy: half a stop for a clear sky by day, ±1 stop with
 * cloud and with the sun below the horizon; held by tests/core/sky/luminance.spec.ts.
 * @example skyLuminance([{ body: { azimuthDeg: 180, altitudeDeg: 45 }, diffuseLux: 12_000 }]).toward(0, 90) // 2474
 */
export function skyLuminance(glows: readonly SkyGlow[], sky: SkyState = {}, evenLux = 0): SkyField {
  requireInRange("evenLux", evenLux, 0, 1e6, "lx");
  for (const { diffuseLux } of glows) requireInRange("diffuseLux", diffuseLux, 0, 1e6, "lx");
  return luminanceUnder(checkedSky(sky), glows, evenLux);
}

/** {@link skyLuminance} under a sky that was checked, for values in range. */
export function luminanceUnder(sky: CheckedSky, glows: readonly SkyGlow[], evenLux: number): SkyField {
  const lit = glows
    .filter(({ diffuseLux }) => diffuseLux > 0)
    .map(({ body, diffuseLux }) => ({ pattern: patternUnder(sky, body), diffuseLux }));
  const even = evenLux / Math.PI;
  return skyField((east, north, up) => {
    let sum = even;
    for (const { pattern, diffuseLux } of lit) sum += diffuseLux * pattern.along(east, north, up);
    return sum;
  });
}

// Enough for the corona of a low sun in the frame: within 4 %, 0.06 stops, of a grid fifty times as fine
const COLUMNS = 6;
const ROWS = 5;

/**
 * Compute the mean luminance of the sky within a frame, each part of the picture counting as much as the room it takes in it.
 * @param luminance of the sky by direction
 * @param camera where it points and what it sees
 * @returns [cd/m²]; undefined where no sky is in the frame
 * @throws DomainError for an angle out of range
 */
export function frameSkyLuminance(luminance: SkyField, camera: CameraView): number | undefined {
  return frameSky(luminance, camera)?.mean;
}

/** The sky in a frame. */
export interface FrameSky {
  /** Mean luminance [cd/m²]. */
  readonly mean: number;
  /** Luminance of its brightest part [cd/m²]. */
  readonly brightest: number;
  /** How much of the frame it takes [1], 0 to 1. */
  readonly share: number;
}

/** Nearer than this to the sun or the moon the glare rules [deg], which nobody meters. Common practice leaves it out; the figure is our own choice. */
export const GLARE_DEG = 5;
const COS_GLARE = /* @__PURE__ */ cosDeg(GLARE_DEG);
const RING_POINTS = 8;

/**
 * Compute the mean and the brightest part of the sky within a frame. The brightest is looked for on a grid over the visible sky and on a ring round each
 * body that shines in it, {@link GLARE_DEG} from its middle: what lies nearer is glare.
 * @param luminance of the sky by direction
 * @param camera where it points and what it sees
 * @param bodies sun and moon, where they light the sky
 * @returns undefined where no sky is in the frame
 * @throws DomainError for an angle out of range
 * Accuracy: mean as {@link frameSkyLuminance}; the brightest is the model's, without single clouds.
 */
export function frameSky(
  luminance: SkyField,
  camera: CameraView,
  bodies: readonly SkyPoint[] = [],
): FrameSky | undefined {
  const view = wholeCameraView(camera);
  const top = tanDeg(view.verticalAngleDeg / 2);
  const edge = Math.max(-top, heightInFrame(Math.max(0, view.skylineAltitudeDeg), view.pitchDeg));
  const axis = directionOf({ azimuthDeg: view.azimuthDeg, altitudeDeg: view.pitchDeg });
  const cornerDeg = atanDeg(Math.hypot(top, tanDeg(view.horizontalAngleDeg / 2)));
  const farthest = cosDeg(Math.min(180, cornerDeg + GLARE_DEG));
  const glares = bodies.map(directionOf).filter((body) => dot(body, axis) > farthest);
  let brightest = 0;
  const mean = meanOverFrame(view, edge, top, (east, north, up) => {
    const here = luminance.along(east, north, up);
    if (here > brightest && !isGlare(glares, east, north, up)) brightest = here;
    return here;
  });
  if (mean === undefined) return undefined;
  const isInFrame = frameTest(view, edge, top);
  for (const glare of glares) {
    for (const [east, north, up] of ringRound(glare)) {
      if (isInFrame(east, north, up)) brightest = Math.max(brightest, luminance.along(east, north, up));
    }
  }
  // a lens so long that glare is all of its sky
  return { mean, brightest: brightest === 0 ? mean : brightest, share: (top - edge) / (2 * top) };
}

/** How much of a frame is sky above its mean skyline [1], 0 to 1. */
export function frameSkyShare(camera: CameraView): number {
  const view = wholeCameraView(camera);
  const top = tanDeg(view.verticalAngleDeg / 2);
  const edge = Math.max(-top, heightInFrame(Math.max(0, view.skylineAltitudeDeg), view.pitchDeg));
  return Math.max(0, (top - edge) / (2 * top));
}

function isGlare(glares: readonly Direction[], east: number, north: number, up: number): boolean {
  for (const [e, n, u] of glares) if (e * east + n * north + u * up > COS_GLARE) return true;
  return false;
}

function dot(a: Direction, b: Direction): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

type Direction = readonly [east: number, north: number, up: number];

function directionOf({ azimuthDeg, altitudeDeg }: SkyPoint): Direction {
  const level = cosDeg(altitudeDeg);
  return [level * sinDeg(azimuthDeg), level * cosDeg(azimuthDeg), sinDeg(altitudeDeg)];
}

/** Directions all round one, {@link GLARE_DEG} from it. */
function ringRound([east, north, up]: Direction): Direction[] {
  const level = Math.hypot(east, north);
  const across: Direction = level < 1e-9 ? [1, 0, 0] : [north / level, -east / level, 0];
  const over: Direction = [across[1] * up, -across[0] * up, across[0] * north - across[1] * east];
  const away = sinDeg(GLARE_DEG);
  return Array.from({ length: RING_POINTS }, (_, i): Direction => {
    const a = away * cosDeg((360 * i) / RING_POINTS);
    const b = away * sinDeg((360 * i) / RING_POINTS);
    return [
      east * COS_GLARE + across[0] * a + over[0] * b,
      north * COS_GLARE + across[1] * a + over[1] * b,
      up * COS_GLARE + over[2] * b,
    ];
  });
}

/** Whether a direction is in the frame between two heights [focal lengths]. */
function frameTest(
  { azimuthDeg, pitchDeg, horizontalAngleDeg }: WholeCameraView,
  from: number,
  to: number,
): (east: number, north: number, up: number) => boolean {
  const side = tanDeg(horizontalAngleDeg / 2);
  const sinPitch = sinDeg(pitchDeg);
  const cosPitch = cosDeg(pitchDeg);
  const sinAzimuth = sinDeg(azimuthDeg);
  const cosAzimuth = cosDeg(azimuthDeg);
  return (east, north, up) => {
    const level = east * sinAzimuth + north * cosAzimuth;
    const ahead = level * cosPitch + up * sinPitch;
    if (ahead <= 1e-9) return false;
    const x = (east * cosAzimuth - north * sinAzimuth) / ahead;
    const y = (up * cosPitch - level * sinPitch) / ahead;
    return Math.abs(x) <= side && y >= from && y <= to;
  };
}

/**
 * Compute the mean of a quantity over the part of the frame that mirrors its sky: as far below the horizon as the skyline stands over it, and farther down.
 * It is asked by unit vectors.
 * @returns undefined where none of the frame is so far down
 * @throws DomainError for an angle out of range
 */
export function frameMeanBelowHorizon(quantity: SkyField["along"], camera: CameraView): number | undefined {
  const view = wholeCameraView(camera);
  const bottom = -tanDeg(view.verticalAngleDeg / 2);
  const edge = Math.min(-bottom, heightInFrame(-Math.max(0, view.skylineAltitudeDeg), view.pitchDeg));
  return meanOverFrame(view, bottom, edge, quantity);
}

/** Height in the frame, in focal lengths from its middle, of an altitude straight ahead. */
function heightInFrame(altitudeDeg: number, pitchDeg: number): number {
  const apart = altitudeDeg - pitchDeg;
  return apart >= 90 ? Number.POSITIVE_INFINITY : apart <= -90 ? Number.NEGATIVE_INFINITY : tanDeg(apart);
}

function meanOverFrame(
  { azimuthDeg, pitchDeg, horizontalAngleDeg }: WholeCameraView,
  from: number,
  to: number,
  quantity: SkyField["along"],
): number | undefined {
  if (!(to - from > 1e-9 * (Math.abs(to) + Math.abs(from)))) return undefined;
  const side = tanDeg(horizontalAngleDeg / 2);
  const sinPitch = sinDeg(pitchDeg);
  const cosPitch = cosDeg(pitchDeg);
  const sinAzimuth = sinDeg(azimuthDeg);
  const cosAzimuth = cosDeg(azimuthDeg);
  let sum = 0;
  for (let row = 0; row < ROWS; row++) {
    const y = from + ((row + 0.5) / ROWS) * (to - from);
    const ahead = cosPitch - y * sinPitch;
    const up = sinPitch + y * cosPitch;
    for (let column = 0; column < COLUMNS; column++) {
      const x = side * ((2 * (column + 0.5)) / COLUMNS - 1);
      const unit = 1 / Math.sqrt(1 + x * x + y * y);
      const east = (ahead * sinAzimuth + x * cosAzimuth) * unit;
      const north = (ahead * cosAzimuth - x * sinAzimuth) * unit;
      sum += quantity(east, north, up * unit);
    }
  }
  return sum / (ROWS * COLUMNS);
}
