import { isFasterThanShutter, isPastLongest } from "../exposure/shutter-limits";
import { changesDuring, type SceneChanges, type TakenSet } from "./changes-during";
import { evText, stopsText } from "./stops-text";

export type BracketWarningCode =
  | "needs-bulb"
  | "faster-than-shutter"
  | "light-drift"
  | "subject-displacement"
  | "between-marks";

/** What may go wrong with a set. The code is stable; the text is for people. */
export interface BracketWarning {
  readonly code: BracketWarningCode;
  readonly text: string;
  /** Which frames it concerns, counted from 0 at the darkest; absent where it is the whole set. */
  readonly frames?: readonly number[];
}

interface Planned extends TakenSet {
  readonly fastest: number;
  readonly longest: number;
  readonly offMarks: boolean;
  readonly request: SceneChanges;
}

export function planWarnings(planned: Planned): BracketWarning[] {
  const { frames, fastest, longest, offMarks, request } = planned;
  const warnings: BracketWarning[] = [];
  const last = frames[frames.length - 1] as TakenSet["frames"][number];
  const first = frames[0] as TakenSet["frames"][number];
  if (isPastLongest(last.shutterSeconds, longest)) {
    warnings.push({
      code: "needs-bulb",
      text: `Longer than the ${Math.round(longest)} s that the camera counts by itself: use bulb with a timer, outside an automatic bracket, or open up or raise the ISO.`,
      frames: indices(frames, (seconds) => isPastLongest(seconds, longest)),
    });
  }
  if (isFasterThanShutter(first.shutterSeconds, fastest)) {
    const over = Math.log2(fastest / first.shutterSeconds);
    warnings.push({
      code: "faster-than-shutter",
      text: `Shorter than the fastest shutter: stop down, lower the ISO or add a filter, by ${stopsText(over)} together.`,
      frames: indices(frames, (seconds) => isFasterThanShutter(seconds, fastest)),
    });
  }
  if (request.lightStopsPerMinute !== undefined || request.subject !== undefined) {
    warnings.push(...changesDuring(request, planned));
  }
  if (offMarks) {
    warnings.push({
      code: "between-marks",
      text: `The scene leaves no room to round to marks: the nearest lose up to ${evText(1 / 6)} at one end.`,
    });
  }
  return warnings;
}

function indices(frames: TakenSet["frames"], concerns: (seconds: number) => boolean): number[] {
  return frames.flatMap(({ shutterSeconds }, i) => (concerns(shutterSeconds) ? [i] : []));
}
