import { sinDeg, wrap180 } from "../angles";
import { DomainError } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass } from "../interpolation";
import { type FramePoint, type FramingCamera, frameProjection } from "./projection";

export interface SkylinePoint extends FramePoint {
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
}

/** The straight line that lies nearest to the skyline, as an edge of a graduated filter would. */
export interface StraightLine {
  /** Height of the line at the left and right edge of the frame: 0 is the top, 1 the bottom. */
  readonly yLeft: number;
  readonly yRight: number;
  /** How far the filter must be turned [deg], clockwise positive. */
  readonly tiltDeg: number;
  /** How far the skyline strays from it [per cent of the frame's height]: root mean square, and at most. */
  readonly residualRmsPercent: number;
  readonly maxResidualPercent: number;
}

export interface SkylineInFrame {
  /** The skyline from left to right, one point for each of the frame's columns that it passes. */
  readonly points: readonly SkylinePoint[];
  /** Null where the skyline does not cross the frame at all. */
  readonly line: StraightLine | null;
  /** Part of the frame that is sky, 0 to 100. */
  readonly skyPercent: number;
}

const COLUMNS = 180;
/** More than rounding moves an altitude by. */
const ROUNDING_DEG = 1e-6;

/**
 * Compute the skyline as the camera sees it: a line through the frame, how straight it is, and how much of the frame is sky.
 * Each column of the frame is followed from top to bottom to where the sky ends, so roll and wide lenses are in it.
 * @param profile altitude of the skyline against azimuth
 * @param camera direction, lens and image size; the frame may not reach the zenith or the nadir
 * @throws DomainError where the frame takes in the zenith or the nadir, where columns have no up and down
 * Accuracy: 1/4000 of the frame's height between profile and line; held by the flat-horizon and wall tests.
 */
export function skylineInFrame(profile: HorizonProfile, camera: FramingCamera): SkylineInFrame {
  const projection = frameProjection(camera);
  // most of a frame is over any ridge or under all of them, whichever way it looks
  const altitudes = profile.altitudesDeg;
  const overAll = sinDeg(altitudes.reduce((most, one) => Math.max(most, one), -90) + ROUNDING_DEG);
  const underAll = sinDeg(altitudes.reduce((least, one) => Math.min(least, one), 90) - ROUNDING_DEG);
  const above = (x: number, y: number): number => {
    const sine = projection.altitudeSineAt(x, y);
    if (sine > overAll) return 1;
    if (sine < underAll) return -1;
    const { azimuthDeg, altitudeDeg } = projection.toSky(x, y);
    return altitudeDeg - interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
  };
  requireNoPole(camera, projection.toFrame(0, 90), projection.toFrame(0, -90));

  const points: SkylinePoint[] = [];
  let sky = 0;
  for (let column = 0; column <= COLUMNS; column++) {
    const x = column / COLUMNS;
    const weight = column === 0 || column === COLUMNS ? 0.5 : 1;
    const y = lowestSky(above, x);
    sky += weight * y;
    if (y > 0 && y < 1) points.push({ x, y, ...projection.toSky(x, y) });
  }
  return { points, line: points.length < 2 ? null : nearestLine(points, camera), skyPercent: (100 * sky) / COLUMNS };
}

/** How far down a column the sky reaches, coming from the top: 0 none, 1 all. Ridges that hide behind nearer ones do not count. */
function lowestSky(clearance: (x: number, y: number) => number, x: number): number {
  if (clearance(x, 0) <= 0) return 0;
  const steps = 40;
  for (let step = 1; step <= steps; step++) {
    if (clearance(x, step / steps) > 0) continue;
    let low = (step - 1) / steps;
    let high = step / steps;
    while (high - low > 1 / 8000) {
      const middle = (low + high) / 2;
      if (clearance(x, middle) > 0) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }
  return 1;
}

function nearestLine(points: readonly SkylinePoint[], camera: FramingCamera): StraightLine {
  const n = points.length;
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / n;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / n;
  const spread = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  const slope = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) / spread;
  const strays = points.map(({ x, y }) => y - meanY - slope * (x - meanX));
  return {
    yLeft: meanY - slope * meanX,
    yRight: meanY + slope * (1 - meanX),
    tiltDeg: wrap180((Math.atan2(slope * camera.heightMm, camera.widthMm) * 180) / Math.PI),
    residualRmsPercent: 100 * Math.sqrt(strays.reduce((sum, stray) => sum + stray * stray, 0) / n),
    maxResidualPercent: 100 * Math.max(...strays.map(Math.abs)),
  };
}

function requireNoPole(camera: FramingCamera, ...poles: readonly (FramePoint | null)[]): void {
  const inside = poles.some((pole) => pole !== null && pole.x >= 0 && pole.x <= 1 && pole.y >= 0 && pole.y <= 1);
  if (!inside) return;
  throw new DomainError({
    code: "impossible",
    param: "camera.pitchDeg",
    given: camera.pitchDeg,
    allowed: "a pitch at which the frame takes in neither the zenith nor the nadir",
  });
}
