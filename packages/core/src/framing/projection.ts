import { acosDeg, asinDeg, atan2Deg, cosDeg, RADIANS_PER_DEGREE, sinDeg, wrap360 } from "../angles";
import { requireInRange, requirePositive } from "../domain-error";

export type ProjectionKind = "rectilinear" | "equidistant";

/** A camera as it stands: which way it looks, and what its lens draws on its sensor. */
export interface FramingCamera {
  /** Degrees clockwise from true north. */
  readonly azimuthDeg: number;
  /** Up is positive [deg], -90 to 90. */
  readonly pitchDeg: number;
  /** Clockwise as seen from behind the camera is positive [deg]; 0 when absent. */
  readonly rollDeg?: number;
  readonly focalLengthMm: number;
  /** The sides of the image on the sensor as the frame is held: width is horizontal. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Rectilinear when absent; equidistant is the usual fisheye. */
  readonly projection?: ProjectionKind;
}

/** A point of the frame: x from 0 at the left edge to 1 at the right, y from 0 at the top to 1 at the bottom. Outside is beyond. */
export interface FramePoint {
  readonly x: number;
  readonly y: number;
}

export interface SkyDirection {
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
}

export interface FrameProjection {
  /** Where a direction falls in the frame; null where the lens cannot draw it (behind a rectilinear lens). */
  toFrame(azimuthDeg: number, altitudeDeg: number): FramePoint | null;
  /** The direction that a point of the frame looks in. */
  toSky(x: number, y: number): SkyDirection;
  /** The sine of that direction's altitude, to rounding: for loops that need nothing else, at a tenth of the cost. */
  altitudeSineAt(x: number, y: number): number;
}

/** East, north, up. */
type Vector = readonly [number, number, number];

/**
 * Make the map between directions of the sky and points of the frame.
 * Source: pinhole geometry, r = f·tan θ (rectilinear) and r = f·θ (equidistant), Kannala and Brandt 2006, IEEE TPAMI 28:1335, eq. 1 and 3.
 * Lens distortion is not in it. Exact to rounding; held by the round-trip test.
 * @throws DomainError for a pitch beyond the zenith or a length that is not positive
 * @example frameProjection({ azimuthDeg: 270, pitchDeg: 0, focalLengthMm: 18, widthMm: 36, heightMm: 24 }).toFrame(315, 0) // { x: 1, y: 0.5 }
 */
export function frameProjection(camera: FramingCamera): FrameProjection {
  const { azimuthDeg, pitchDeg, rollDeg = 0, projection = "rectilinear" } = camera;
  requireInRange("camera.pitchDeg", pitchDeg, -90, 90, "deg");
  requireInRange("camera.rollDeg", rollDeg, -180, 180, "deg");
  const focal = requirePositive("camera.focalLengthMm", camera.focalLengthMm, "mm");
  const width = requirePositive("camera.widthMm", camera.widthMm, "mm");
  const height = requirePositive("camera.heightMm", camera.heightMm, "mm");

  const forward = unitVector(azimuthDeg, pitchDeg);
  const levelRight: Vector = [cosDeg(azimuthDeg), -sinDeg(azimuthDeg), 0];
  const levelUp = unitVector(azimuthDeg, pitchDeg + 90);
  const right = combine(levelRight, cosDeg(rollDeg), levelUp, -sinDeg(rollDeg));
  const up = combine(levelRight, sinDeg(rollDeg), levelUp, cosDeg(rollDeg));

  const rayAt = (x: number, y: number): Vector => {
    const rightMm = (x - 0.5) * width;
    const upMm = (0.5 - y) * height;
    const squaredMm = rightMm * rightMm + upMm * upMm;
    let across = 1 / Math.sqrt(focal * focal + squaredMm);
    let ahead = focal * across;
    if (projection !== "rectilinear") {
      const radiusMm = Math.sqrt(squaredMm);
      across = radiusMm < 1e-12 ? 0 : Math.sin(radiusMm / focal) / radiusMm;
      ahead = Math.cos(radiusMm / focal);
    }
    const aside = rightMm * across;
    const above = upMm * across;
    const east = forward[0] * ahead + (right[0] * aside + up[0] * above);
    const north = forward[1] * ahead + (right[1] * aside + up[1] * above);
    const zenith = forward[2] * ahead + (right[2] * aside + up[2] * above);
    return [east, north, zenith];
  };

  return {
    toFrame(azimuth, altitude) {
      const direction = unitVector(azimuth, altitude);
      const along = dot(direction, forward);
      const acrossRight = dot(direction, right);
      const acrossUp = dot(direction, up);
      let perUnit: number;
      if (projection === "rectilinear") {
        if (along < 1e-9) return null;
        perUnit = focal / along;
      } else {
        const across = Math.hypot(acrossRight, acrossUp);
        perUnit = across < 1e-12 ? focal : (focal * acosDeg(along) * RADIANS_PER_DEGREE) / across;
      }
      return { x: 0.5 + (acrossRight * perUnit) / width, y: 0.5 - (acrossUp * perUnit) / height };
    },
    altitudeSineAt(x, y) {
      if (projection !== "rectilinear") return rayAt(x, y)[2];
      const rightMm = (x - 0.5) * width;
      const upMm = (0.5 - y) * height;
      const length = Math.sqrt(focal * focal + rightMm * rightMm + upMm * upMm);
      return (forward[2] * focal + right[2] * rightMm + up[2] * upMm) / length;
    },
    toSky(x, y) {
      const [east, north, zenith] = rayAt(x, y);
      return { azimuthDeg: wrap360(atan2Deg(east, north)), altitudeDeg: asinDeg(zenith) };
    },
  };
}

function unitVector(azimuthDeg: number, altitudeDeg: number): Vector {
  const level = cosDeg(altitudeDeg);
  return [level * sinDeg(azimuthDeg), level * cosDeg(azimuthDeg), sinDeg(altitudeDeg)];
}

function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function combine(a: Vector, p: number, b: Vector, q: number): Vector {
  return [a[0] * p + b[0] * q, a[1] * p + b[1] * q, a[2] * p + b[2] * q];
}
