import type { FilterReading } from "../filters/filter";
import { darkestSky } from "../filters/polarizer";
import {
  type PolarizerVerdict,
  type PolarizerWarning,
  polarizerVerdict,
  polarizerWarnings,
} from "../filters/polarizer-advice";
import { type FramingCamera, frameProjection } from "../framing/projection";
import type { HorizonProfile } from "../horizon/profile";
import type { SkyPoint, SkyState } from "../sky/sky-types";

/** What the polarizer in the bag does to the sky in the frame. */
export interface PolarizerAdvice {
  /** The rotation that darkens the sky most: 0 with the filter's axis upright, clockwise from behind the camera [deg]. */
  readonly rotationDeg: number;
  /** Against unpolarized surroundings [stops]. */
  readonly meanStops: number;
  readonly minStops: number;
  readonly maxStops: number;
  readonly rangeStops: number;
  /** The light that it costs [stops]. */
  readonly lossStops: number;
  readonly verdict: PolarizerVerdict;
  readonly warnings: readonly PolarizerWarning[];
}

// Coarse, since each moment asks: the mean is within 0.1 stops of a grid four times as fine
const GRID = { columns: 9, rows: 7 } as const;

/** Undefined where there is no sky in the frame. */
export function polarizerAdvice(
  sun: SkyPoint,
  camera: FramingCamera,
  profile: HorizonProfile,
  sky: SkyState | undefined,
  filter: FilterReading,
): PolarizerAdvice | undefined {
  const maxDarkening = darkestSky(sun, frameProjection(camera), profile, sky, GRID);
  if (maxDarkening === undefined) return undefined;
  const { rotationDeg, meanStops, minStops, maxStops, rangeStops } = maxDarkening;
  const lossStops = filter.attenuationStops;
  const verdict = polarizerVerdict({ maxDarkening }, null, lossStops);
  const warnings = polarizerWarnings({ maxDarkening }, null);
  return { rotationDeg, meanStops, minStops, maxStops, rangeStops, lossStops, verdict, warnings };
}
