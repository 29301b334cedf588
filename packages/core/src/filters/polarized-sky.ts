import { cosDeg, sinDeg } from "../angles";
import type { SkyPolarization } from "../sky/polarization";
import { bestRotation, ROTATIONS_DEG } from "./polarizer-angle";
import {
  type Direction,
  direction,
  dot,
  type FrameLook,
  type PolarizerFrame,
  passedShare,
  type Swing,
} from "./polarizer-rays";

/** What one rotation makes of the sky in the frame: how much darker it gets than unpolarized surroundings [stops]. */
export interface SkyDarkening {
  /** 0 with the filter's axis upright in the frame, clockwise as seen from behind the camera [deg], 0 to 180. */
  readonly rotationDeg: number;
  readonly meanStops: number;
  readonly minStops: number;
  readonly maxStops: number;
  /** The most less the least: how uneven the sky becomes. */
  readonly rangeStops: number;
  /** At the corners of the frame, null where a corner is not sky. */
  readonly cornerStops: {
    readonly topLeft: number | null;
    readonly topRight: number | null;
    readonly bottomLeft: number | null;
    readonly bottomRight: number | null;
  };
  /** The widest difference between two corners that are sky; null where fewer than two are. */
  readonly cornerToCornerStops: number | null;
}

/** One point of the sky in the frame, at the rotation that darkens most. */
export interface SkyDarkeningPoint {
  /** From 0 at the left edge of the frame to 1 at the right. */
  readonly x: number;
  /** From 0 at the top edge to 1 at the bottom. */
  readonly y: number;
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
  readonly fromSunDeg: number;
  /** Degree of polarization [1]. */
  readonly degree: number;
  readonly darkeningStops: number;
}

/** The sky in the frame through a polarizer. */
export interface PolarizedSky {
  /** Degree of polarization a quarter turn from the sun, whether or not that is in the frame [1]. */
  readonly maxDegree: number;
  /** The rotation that darkens the sky most on the mean. */
  readonly maxDarkening: SkyDarkening;
  /** The rotation that leaves it most even, of those that darken it at least half as much. */
  readonly maxEvenness: SkyDarkening;
  readonly grid: readonly SkyDarkeningPoint[];
}

export interface SkyLook extends FrameLook {
  readonly weight: number;
}

interface Looked {
  readonly look: SkyLook;
  readonly degree: number;
  readonly fromSunDeg: number;
  readonly swing: Swing;
}

/** The darkening of the sky by rotation, asked again where the water wants another. */
export interface SkyThroughPolarizer {
  readonly sky: PolarizedSky;
  meanStopsAt(rotationDeg: number): number;
}

// Our own choice: a turn that gives up more than half of the darkening has given up the filter
const MIN_SHARE_OF_MAX = 0.5;

/** @param looks at the sky in the frame, at least one */
export function skyThroughPolarizer(
  frame: PolarizerFrame,
  looks: readonly SkyLook[],
  polarization: SkyPolarization,
): SkyThroughPolarizer {
  const looked = lookThrough(frame, looks, polarization);
  const meanStopsAt = meanDarkening(looked);
  const maxDarkening = darkestSetting(looked, meanStopsAt);
  const evenDeg = maxEvennessRotation(looked, meanStopsAt, maxDarkening);
  const maxEvenness =
    evenDeg === maxDarkening.rotationDeg ? maxDarkening : effectAt(looked, evenDeg, meanStopsAt(evenDeg));
  const sin = sinDeg(maxDarkening.rotationDeg);
  const cos = cosDeg(maxDarkening.rotationDeg);
  const grid = looked.map((one): SkyDarkeningPoint => {
    const { x, y, azimuthDeg, altitudeDeg } = one.look;
    const { degree, fromSunDeg } = one;
    return { x, y, azimuthDeg, altitudeDeg, fromSunDeg, degree, darkeningStops: darkening(one, sin, cos) };
  });
  return { sky: { maxDegree: polarization.maximum, maxDarkening, maxEvenness, grid }, meanStopsAt };
}

/**
 * The rotation that darkens the sky most, as {@link skyThroughPolarizer} has it.
 * @param looks at the sky in the frame, at least one
 */
export function maxDarkeningOf(
  frame: PolarizerFrame,
  looks: readonly SkyLook[],
  polarization: SkyPolarization,
): SkyDarkening {
  const looked = lookThrough(frame, looks, polarization);
  return darkestSetting(looked, meanDarkening(looked));
}

function lookThrough(frame: PolarizerFrame, looks: readonly SkyLook[], polarization: SkyPolarization): Looked[] {
  return looks.map((look): Looked => {
    const { degree, directionDeg, fromSunDeg } = polarization.toward(look.azimuthDeg, look.altitudeDeg);
    return { look, degree, fromSunDeg, swing: frame.swing(look, swingOf(look, directionDeg)) };
  });
}

/** The mean over the sky in the frame [stops], by rotation. */
function meanDarkening(looked: readonly Looked[]): (rotationDeg: number) => number {
  const totalWeight = looked.reduce((sum, { look }) => sum + look.weight, 0);
  return (rotationDeg) => {
    const sin = sinDeg(rotationDeg);
    const cos = cosDeg(rotationDeg);
    let sum = 0;
    for (const one of looked) sum += one.look.weight * darkening(one, sin, cos);
    return sum / totalWeight;
  };
}

function darkestSetting(looked: readonly Looked[], meanStopsAt: (rotationDeg: number) => number): SkyDarkening {
  const bestDeg = bestRotation(meanStopsAt);
  return effectAt(looked, bestDeg, meanStopsAt(bestDeg));
}

function maxEvennessRotation(
  looked: readonly Looked[],
  meanStopsAt: (rotationDeg: number) => number,
  maxDarkening: SkyDarkening,
): number {
  let evenDeg = maxDarkening.rotationDeg;
  // the ratio of what the darkest and the brightest point let through stands for the range in stops
  let flattest = 2 ** -maxDarkening.rangeStops;
  for (const rotationDeg of ROTATIONS_DEG) {
    const sin = sinDeg(rotationDeg);
    const cos = cosDeg(rotationDeg);
    let dark = Number.POSITIVE_INFINITY;
    let bright = 0;
    for (const one of looked) {
      const through = passed(one, sin, cos);
      dark = Math.min(dark, through);
      bright = Math.max(bright, through);
    }
    if (dark / bright <= flattest || meanStopsAt(rotationDeg) < MIN_SHARE_OF_MAX * maxDarkening.meanStops) continue;
    flattest = dark / bright;
    evenDeg = rotationDeg;
  }
  return evenDeg;
}

/** What passes, against what passes of unpolarized light [1]. */
function passed({ degree, swing }: Looked, sin: number, cos: number): number {
  return 1 + degree * (2 * passedShare(swing, sin, cos) - 1);
}

/** T = ½(1 + p·cos 2δ) against the ½ of unpolarized light: −log2(1 + p·cos 2δ), positive where the sky gets darker. */
function darkening(looked: Looked, sin: number, cos: number): number {
  return 0 - Math.log2(passed(looked, sin, cos));
}

function effectAt(looked: readonly Looked[], rotationDeg: number, meanStops: number): SkyDarkening {
  const sin = sinDeg(rotationDeg);
  const cos = cosDeg(rotationDeg);
  let minStops = Number.POSITIVE_INFINITY;
  let maxStops = Number.NEGATIVE_INFINITY;
  const corners = new Map<string, number>();
  for (const one of looked) {
    const stops = darkening(one, sin, cos);
    minStops = Math.min(minStops, stops);
    maxStops = Math.max(maxStops, stops);
    const { x, y } = one.look;
    if ((x === 0 || x === 1) && (y === 0 || y === 1)) corners.set(`${x},${y}`, stops);
  }
  const values = [...corners.values()];
  return {
    rotationDeg,
    meanStops,
    minStops,
    maxStops,
    rangeStops: maxStops - minStops,
    cornerStops: {
      topLeft: corners.get("0,0") ?? null,
      topRight: corners.get("1,0") ?? null,
      bottomLeft: corners.get("0,1") ?? null,
      bottomRight: corners.get("1,1") ?? null,
    },
    cornerToCornerStops: values.length < 2 ? null : Math.max(...values) - Math.min(...values),
  };
}

/** A direction across a look [deg clockwise from the vertical] as a vector. */
function swingOf({ azimuthDeg, altitudeDeg, along }: FrameLook, directionDeg: number): Direction {
  const above = direction(azimuthDeg, altitudeDeg + 90);
  const right = direction(azimuthDeg + 90, 0);
  const cos = cosDeg(directionDeg);
  const sin = sinDeg(directionDeg);
  const swing: Direction = [
    above[0] * cos + right[0] * sin,
    above[1] * cos + right[1] * sin,
    above[2] * cos + right[2] * sin,
  ];
  // square to the look by construction; rounding is taken off
  const part = dot(swing, along);
  return [swing[0] - part * along[0], swing[1] - part * along[1], swing[2] - part * along[2]];
}
