import { cosDeg, sinDeg } from "../angles";
import { polarizingAngleDeg } from "../sky/fresnel";
import { type Glare, glareAt, type WetSurface } from "./polarized-glare";
import { bestRotation } from "./polarizer-angle";
import type { FrameLook, PolarizerFrame } from "./polarizer-rays";

/** The glare at one depression below the horizon, in the middle of the frame, at the rotation that leaves least. */
export interface GlareLeft {
  readonly y: number;
  readonly depressionDeg: number;
  /** From the upright [deg]. */
  readonly incidenceDeg: number;
  /** Share of the light on it that the bare surface throws back [%]. */
  readonly reflectancePercent: number;
  /** Against unpolarized surroundings [%]: 100 is a filter that does nothing, 0 one that stops the glare whole. */
  readonly glareLeftPercent: number;
}

/** The water in the frame through a polarizer. */
export interface PolarizedWater {
  readonly surface: WetSurface;
  readonly refractiveIndex: number;
  /** The incidence at which glare is wholly polarized [deg], and the depression of a look that meets it. */
  readonly polarizingAngleDeg: number;
  readonly polarizingDepressionDeg: number;
  /** The rotation that leaves the least glare over all the water in the frame [deg]. */
  readonly rotationDeg: number;
  /** Over all of it, each part by how much it glares, against unpolarized surroundings [%]. */
  readonly glareLeftPercent: number;
  readonly byDepression: readonly GlareLeft[];
}

export interface WaterThroughPolarizer {
  readonly water: PolarizedWater;
  glareLeftPercentAt(rotationDeg: number): number;
}

/**
 * @param looks at the water in the frame, at least one
 * @param middle looks down the middle of the frame
 */
export function waterThroughPolarizer(
  frame: PolarizerFrame,
  looks: readonly (FrameLook & { readonly weight: number })[],
  middle: readonly FrameLook[],
  surface: WetSurface,
  refractiveIndex: number,
): WaterThroughPolarizer {
  const glares = looks.map((look) => ({ weight: look.weight, glare: glareAt(frame, look, surface, refractiveIndex) }));
  const total = glares.reduce((sum, { weight, glare }) => sum + weight * glare.reflectance, 0);
  const glareLeftPercentAt = (rotationDeg: number): number => {
    if (total === 0) return 100;
    const sin = sinDeg(rotationDeg);
    const cos = cosDeg(rotationDeg);
    let sum = 0;
    for (const { weight, glare } of glares) sum += weight * glare.reflectance * glare.passed(sin, cos);
    return (200 * sum) / total;
  };
  const rotationDeg = bestRotation((deg) => -glareLeftPercentAt(deg));
  const polarizingAngle = polarizingAngleDeg(refractiveIndex);
  const sin = sinDeg(rotationDeg);
  const cos = cosDeg(rotationDeg);
  return {
    water: {
      surface,
      refractiveIndex,
      polarizingAngleDeg: polarizingAngle,
      polarizingDepressionDeg: 90 - polarizingAngle,
      rotationDeg,
      glareLeftPercent: glareLeftPercentAt(rotationDeg),
      byDepression: middle.map((look) => leftIn(look, glareAt(frame, look, surface, refractiveIndex), sin, cos)),
    },
    glareLeftPercentAt,
  };
}

function leftIn({ y }: FrameLook, glare: Glare, sin: number, cos: number): GlareLeft {
  return {
    y,
    depressionDeg: glare.depressionDeg,
    incidenceDeg: 90 - glare.depressionDeg,
    reflectancePercent: 100 * glare.reflectance,
    glareLeftPercent: 200 * glare.passed(sin, cos),
  };
}
