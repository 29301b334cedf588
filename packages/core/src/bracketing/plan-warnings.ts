import { DomainError, requireInRange, requirePositive, within } from "../domain-error";
import { frameToFrameDisplacementPx, imageSpeedPxPerS, type SubjectMotion } from "../exposure/motion";
import { isFasterThanShutter, isPastLongest } from "../exposure/shutter-limits";
import { evText, stopsText } from "./plan-reasons";

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

/** Something in the scene that moves while the set is taken. */
export interface BracketSubject {
  /** Speed of its image [px/s], 0 or more; this or `motion`. */
  readonly pxPerSecond?: number;
  /** How it moves, and the lens and pixels that see it. */
  readonly motion?: SubjectMotion;
  /** Shift from frame to frame that a blend still hides [px], greater than 0. */
  readonly budgetPx: number;
}

/** Light may drift this far during a set before the frames stop matching: a third of a stop, common practice. */
const DRIFT_STOPS = 1 / 3;

interface Taken {
  readonly frames: readonly { readonly shutterSeconds: number }[];
  readonly totalSeconds: number;
  readonly frameGapSeconds: number;
  readonly fastest: number;
  readonly longest: number;
  readonly offMarks: boolean;
  readonly request: {
    readonly lightStopsPerMinute?: number;
    readonly subject?: BracketSubject;
  };
}

export function planWarnings({ frames, totalSeconds, frameGapSeconds, fastest, longest, offMarks, request }: Taken) {
  const warnings: BracketWarning[] = [];
  const last = frames[frames.length - 1] as Taken["frames"][number];
  const first = frames[0] as Taken["frames"][number];
  if (isPastLongest(last.shutterSeconds, longest)) {
    warnings.push({
      code: "needs-bulb",
      text: `Longer than the camera counts by itself (${Math.round(longest)} s): these need bulb and a timer, outside an automatic bracket. A wider aperture or a higher ISO would bring them back.`,
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
  if (request.lightStopsPerMinute !== undefined) {
    const rate = requireInRange("lightStopsPerMinute", request.lightStopsPerMinute, -20, 20, "stops/min");
    const drift = (Math.abs(rate) * totalSeconds) / 60;
    if (drift > DRIFT_STOPS) {
      warnings.push({
        code: "light-drift",
        text: `The light changes by ${stopsText(drift)} while the set is taken: shorten it, or meter again for the last frames.`,
      });
    }
  }
  if (request.subject !== undefined) {
    const { budgetPx } = request.subject;
    const pxPerSecond = speedOf(request.subject);
    requirePositive("subject.budgetPx", budgetPx, "px");
    const times = frames.map(({ shutterSeconds }) => shutterSeconds);
    const shifts = frameToFrameDisplacementPx(pxPerSecond, times, frameGapSeconds);
    const worst = Math.max(0, ...shifts);
    if (worst > budgetPx) {
      warnings.push({
        code: "subject-displacement",
        text: `What moves shifts by up to ${Math.round(worst)} px between frames: blend it from one frame.`,
        frames: shifts.flatMap((shift, i) => (shift > budgetPx ? [i + 1] : [])),
      });
    }
  }
  if (offMarks) {
    warnings.push({
      code: "between-marks",
      text: `The scene leaves no room to round to marks: at the nearest marks up to ${evText(1 / 6)} is lost at one end.`,
    });
  }
  return warnings;
}

function speedOf({ pxPerSecond, motion }: BracketSubject): number {
  if (motion !== undefined && pxPerSecond === undefined) {
    return within("subject.motion", () => imageSpeedPxPerS(motion));
  }
  if (pxPerSecond === undefined || motion !== undefined) {
    const allowed = "pxPerSecond or motion, one of them";
    throw new DomainError({ param: "subject.pxPerSecond", given: pxPerSecond, allowed });
  }
  return requireInRange("subject.pxPerSecond", pxPerSecond, 0, 1e9, "px/s");
}

function indices(frames: Taken["frames"], concerns: (seconds: number) => boolean): number[] {
  return frames.flatMap(({ shutterSeconds }, i) => (concerns(shutterSeconds) ? [i] : []));
}
