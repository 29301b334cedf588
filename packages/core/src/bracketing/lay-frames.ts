import { nearestMark } from "../exposure/dial";
import { TIMES } from "../exposure/nominal-series";
import { framesDarker } from "./bracket-frames";
import type { SensorLatitude } from "./latitude";

export interface BracketFrame {
  /** Exposure against the base exposure [stops], positive for brighter. */
  readonly biasStops: number;
  /** Exact shutter time [s]. */
  readonly shutterSeconds: number;
  /** The nearest mark: `1/125 s`. */
  readonly nominal: string;
  /** The nearest mark as a number [s]. */
  readonly nominalSeconds: number;
  /** The part of the scene that this frame holds [EV100], darkest and brightest. */
  readonly coversEv100: readonly [low: number, high: number];
}

export interface FramesRequest {
  readonly count: number;
  /** [stops] */
  readonly stepStops: number;
  /** How far the set lies from the base [stops]. */
  readonly shiftStops: number;
  /** What the frame without bias is exposed for [EV100]. */
  readonly baseEv100: number;
  /** EV100 of the settings at which the shutter is 1 s. */
  readonly dialZero: number;
  readonly latitude: SensorLatitude;
  readonly series: "half" | "third";
}

/** The frames of a set, from the darkest to the brightest. */
export function layFrames(request: FramesRequest): BracketFrame[] {
  const { count, stepStops, shiftStops, baseEv100, dialZero, latitude, series } = request;
  const dark = framesDarker(count);
  return Array.from({ length: count }, (_, i): BracketFrame => {
    const biasStops = shiftStops + (i - dark) * stepStops;
    const ev100 = baseEv100 - biasStops;
    const shutterSeconds = 2 ** (dialZero - ev100);
    const mark = nearestMark(TIMES, shutterSeconds, series);
    return {
      biasStops,
      shutterSeconds,
      nominal: mark.text,
      nominalSeconds: mark.value,
      coversEv100: [ev100 - latitude.footroomStops, ev100 + latitude.headroomStops],
    };
  });
}
