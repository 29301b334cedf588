import type { Kit } from "../evening/kit";
import { roundCompass } from "../words/bearing";

/** Something that stands between the camera and the ridge. */
export interface Foreground {
  readonly distanceM: number;
  /** Height of its top over the ground that the tripod stands on [m]. */
  readonly topM: number;
  readonly azimuthDeg: number;
}

/** The camera as the reader holds it. */
export interface FrameState {
  readonly azimuthDeg: number;
  readonly pitchDeg: number;
  readonly focalLengthMm: number;
  readonly orientation: "landscape" | "portrait";
  /** Of the lens over the ground [m]. */
  readonly tripodM: number;
  /** Index into the steps of the sun's way, a part of a step allowed. */
  readonly minutes: number;
  readonly foreground: Foreground | null;
  readonly kit: Kit;
}

export const FOCAL_LENGTHS_MM = [14, 16, 20, 24, 28, 35, 50, 70, 85, 105, 135, 200, 300, 400] as const;
export const TRIPOD_M = { min: 0.2, max: 2.2, step: 0.05 } as const;
export const PITCH_DEG = { min: -15, max: 30 } as const;

/** A state with something changed, kept within what the frame can show. */
export function changed(state: FrameState, change: Partial<FrameState>, longestMinutes: number): FrameState {
  const next = { ...state, ...change };
  return {
    ...next,
    azimuthDeg: Math.round(roundCompass(next.azimuthDeg) * 10) / 10,
    pitchDeg: Math.round(between(next.pitchDeg, PITCH_DEG.min, PITCH_DEG.max) * 10) / 10,
    tripodM: Math.round(between(next.tripodM, TRIPOD_M.min, TRIPOD_M.max) * 100) / 100,
    minutes: Math.round(between(next.minutes, 0, longestMinutes)),
  };
}

/** The next longer or shorter lens. */
export function lensAfter(focalLengthMm: number, by: 1 | -1): number {
  const lenses: readonly number[] = FOCAL_LENGTHS_MM;
  const index = Math.max(0, lenses.indexOf(focalLengthMm));
  return lenses[between(index + by, 0, lenses.length - 1)] as number;
}

function between(value: number, min: number, max: number): number {
  return Math.max(min, Math.min(max, value));
}
