import { cosDeg, sinDeg } from "../angles";
import type { FrameProjection } from "../framing/projection";

/** East, north, up. */
export type Direction = readonly [number, number, number];

/** One look through the frame. */
export interface FrameLook {
  readonly x: number;
  readonly y: number;
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
  readonly along: Direction;
}

/** A look and the way its light swings, against the filter's sides: a across, b up, both square to the ray. */
export interface Swing {
  readonly alongA: number;
  readonly alongB: number;
  readonly aa: number;
  readonly ab: number;
  readonly bb: number;
}

/** Square of the cosine between a swing and what the filter passes [1], by the sine and cosine of its rotation. */
export function passedShare({ alongA, alongB, aa, ab, bb }: Swing, sin: number, cos: number): number {
  const part = alongA * cos - alongB * sin;
  const whole = aa * cos * cos - 2 * ab * sin * cos + bb * sin * sin;
  // a ray along the absorbing axis: beyond any lens, but not beyond rounding
  return whole < 1e-12 ? 0.5 : Math.min(1, (part * part) / whole);
}

/** The frame as a polarizer before the lens sees it: its sides in space, and looks through it. */
export interface PolarizerFrame {
  look(x: number, y: number): FrameLook;
  /** @param swing unit vector across the look */
  swing(look: FrameLook, swing: Direction): Swing;
}

/**
 * A polarizer flat before the lens. Toward the edges of a wide lens the light meets it aslant: what it passes there is
 * square to its absorbing axis and to the ray, and no longer its own axis.
 * Source: the absorbing axis decides, Fainman & Shamir 1984, Applied Optics 23:3188 (from memory).
 */
export function polarizerFrame(projection: FrameProjection): PolarizerFrame {
  const look = (x: number, y: number): FrameLook => {
    const { azimuthDeg, altitudeDeg } = projection.toSky(x, y);
    return { x, y, azimuthDeg, altitudeDeg, along: direction(azimuthDeg, altitudeDeg) };
  };
  const forward = look(0.5, 0.5).along;
  const up = acrossOf(look(0.5, 0.25).along, forward);
  const right = cross(forward, up);
  return {
    look,
    swing({ along }, swing) {
      // the absorbing axis is cos·right − sin·up; what passes is square to it and to the ray
      const a = cross(along, right);
      const b = cross(along, up);
      return { alongA: dot(swing, a), alongB: dot(swing, b), aa: dot(a, a), ab: dot(a, b), bb: dot(b, b) };
    },
  };
}

export function direction(azimuthDeg: number, altitudeDeg: number): Direction {
  const level = cosDeg(altitudeDeg);
  return [level * sinDeg(azimuthDeg), level * cosDeg(azimuthDeg), sinDeg(altitudeDeg)];
}

export function dot(a: Direction, b: Direction): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Direction, b: Direction): Direction {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function unit([x, y, z]: Direction): Direction {
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}

/** The part of a vector that is square to a unit vector, made a unit. */
function acrossOf(vector: Direction, to: Direction): Direction {
  const part = dot(vector, to);
  return unit([vector[0] - part * to[0], vector[1] - part * to[1], vector[2] - part * to[2]]);
}
