import type { SensorLatitude } from "../bracketing/latitude";
import type { SceneTones } from "./scene-tones";

/** How far from the exposure the means of a scene's parts may lie in one frame [stops]. */
export interface FrameLimits {
  /** Over the exposure, for the brightest part. */
  readonly aboveStops: number;
  /** Under it, for the darkest. */
  readonly belowStops: number;
  /** Under it, for the ground that is metered. */
  readonly groundBelowStops: number;
}

// Diffuse white lies 2.5 stops over middle grey (ISO 12232: saturation at 2.97, half a stop kept over white)
const WELL_ABOVE_STOPS = 2.5;
// Clear detail from Zone III on, two stops under middle grey (Focal Encyclopedia of Photography, 4th ed. 2007, p. 670)
const WELL_BELOW_STOPS = 2;
// Common practice: the ground is rendered within about a stop of middle grey
const WELL_GROUND_STOPS = 1;
// Common practice for a night that is to look like one: up to two stops under the meter
const NIGHT_GROUND_STOPS = 2;

/** What one frame holds well: with clear detail at both ends and the ground about as it was metered. */
export function heldWell(
  { headroomStops, footroomStops }: SensorLatitude,
  { night }: Pick<SceneTones, "night">,
): FrameLimits {
  return {
    aboveStops: Math.min(WELL_ABOVE_STOPS, headroomStops),
    // by night the shadows may go
    belowStops: night ? footroomStops : Math.min(WELL_BELOW_STOPS, footroomStops),
    groundBelowStops: night ? NIGHT_GROUND_STOPS : WELL_GROUND_STOPS,
  };
}

/** What one frame holds at a push: highlights up to saturation, shadows down to the noise floor and lifted afterwards. */
export function heldAtAPush({ headroomStops, footroomStops }: SensorLatitude): FrameLimits {
  return { aboveStops: headroomStops, belowStops: footroomStops, groundBelowStops: footroomStops };
}

/** The exposures [EV100] at which one frame holds a scene: none where `darkestEv100` lies under `brightestEv100`. */
export interface ExposureRange {
  /** The brightest exposure that keeps the highlights. */
  readonly brightestEv100: number;
  /** The darkest that keeps the shadows and the ground. */
  readonly darkestEv100: number;
}

/** The exposures at which one frame holds the parts of a scene within limits. */
export function exposuresHolding(tones: SceneTones, limits: FrameLimits): ExposureRange {
  return {
    brightestEv100: Math.max(tones.brightestEv100, tones.brightestGroundEv100) - limits.aboveStops,
    darkestEv100: Math.min(tones.darkestEv100 + limits.belowStops, tones.groundEv100 + limits.groundBelowStops),
  };
}

/** How much room a frame has left beyond the scene [stops]; negative where it lacks some. */
export function roomStops({ brightestEv100, darkestEv100 }: ExposureRange): number {
  return darkestEv100 - brightestEv100;
}
