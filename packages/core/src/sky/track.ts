import { MS_PER_DAY } from "../time";
import { type Observer, type SkyPosition, siteOf, toHorizontal } from "./horizontal";
import { moonPlace } from "./moon";
import type { Atmosphere } from "./refraction";
import { sunPlace } from "./sun";

/** Where a body stands at each instant [Unix ms] of a span. */
export type SkyTrack = (instantMs: number) => SkyPosition;

interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly siderealRad: number;
}

// A cubic through four nodes errs by h⁴·f''''·3/128: 4e-9 of the radius for the sun at 12 h, 6e-8 for the moon at 3 h
const SUN_NODE_MS = MS_PER_DAY / 2;
const MOON_NODE_MS = MS_PER_DAY / 8;
// Sidereal day: the earth turns by this much in a millisecond of Universal Time [rad] (Meeus 1998, eq. 12.4)
const TURN_PER_MS = (360.98564736629 * Math.PI) / 180 / MS_PER_DAY;

/**
 * The sun's track over a span, for timelines and root finding: the slow part (its place among the stars) is interpolated between
 * nodes, the fast part (the earth's turn) stays exact.
 * @param startMs first instant [Unix ms]
 * @param endMs last instant [Unix ms]; instants outside the span are still right within some hours of it
 * @throws DomainError for an observer or an atmosphere out of range
 * Accuracy: within 0.0005° of {@link sunPosition}; held in tests/core/sky/track.spec.ts.
 */
export function sunTrack(startMs: number, endMs: number, observer: Observer, atmosphere?: Atmosphere): SkyTrack {
  return track(sunPlace, SUN_NODE_MS, startMs, endMs, observer, atmosphere);
}

/** The moon's track over a span; as {@link sunTrack}, within 0.0005° of {@link moonPosition}. */
export function moonTrack(startMs: number, endMs: number, observer: Observer, atmosphere?: Atmosphere): SkyTrack {
  return track(moonPlace, MOON_NODE_MS, startMs, endMs, observer, atmosphere);
}

function track(
  placeAt: (instantMs: number) => Place,
  nodeMs: number,
  startMs: number,
  endMs: number,
  observer: Observer,
  atmosphere: Atmosphere | undefined,
): SkyTrack {
  const site = siteOf(observer, atmosphere);
  const firstMs = startMs - 1.5 * nodeMs;
  const count = Math.max(4, Math.ceil((endMs - startMs) / nodeMs) + 4);
  const xs = new Float64Array(count);
  const ys = new Float64Array(count);
  const zs = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const { x, y, z } = placeAt(firstMs + i * nodeMs);
    xs[i] = x;
    ys[i] = y;
    zs[i] = z;
  }
  const { siderealRad } = placeAt(startMs);
  const lastLeft = count - 3;
  return (instantMs) => {
    const position = (instantMs - firstMs) / nodeMs;
    const left = Math.min(lastLeft, Math.max(1, Math.floor(position)));
    const t = position - left;
    // Lagrange's cubic through the nodes at -1, 0, 1 and 2
    const wa = (-t * (t - 1) * (t - 2)) / 6;
    const wb = ((t + 1) * (t - 1) * (t - 2)) / 2;
    const wc = (-(t + 1) * t * (t - 2)) / 2;
    const wd = ((t + 1) * t * (t - 1)) / 6;
    const at = (v: Float64Array): number =>
      wa * (v[left - 1] as number) +
      wb * (v[left] as number) +
      wc * (v[left + 1] as number) +
      wd * (v[left + 2] as number);
    return toHorizontal(at(xs), at(ys), at(zs), siderealRad + TURN_PER_MS * (instantMs - startMs), site);
  };
}
