import { DomainError, requireInRange, requirePositive, within } from "../domain-error";
import { frameToFrameDisplacementPx } from "../exposure/frame-shift";
import { imageSpeedPxPerS, type SubjectMotion } from "../exposure/motion";
import type { BracketWarning } from "./plan-warnings";
import { stopsText } from "./stops-text";

/** Something in the scene that moves while the set is taken. */
export interface BracketSubject {
  /** Speed of its image [px/s], 0 or more; this or `motion`. */
  readonly pxPerSecond?: number;
  /** How it moves, and the lens and pixels that see it. */
  readonly motion?: SubjectMotion;
  /** Shift from frame to frame that a blend still hides [px], greater than 0. */
  readonly budgetPx: number;
}

/** What changes in a scene while a set is taken. */
export interface SceneChanges {
  /** How fast the light goes [stops/min], -20 to 20; default: not looked at. */
  readonly lightStopsPerMinute?: number;
  readonly subject?: BracketSubject;
}

/** Frames in the order taken, and how long they take. */
export interface TakenSet {
  readonly frames: readonly { readonly shutterSeconds: number }[];
  readonly frameGapSeconds: number;
  readonly totalSeconds: number;
}

/** Light may drift this far during a set before the frames stop matching: a third of a stop, common practice. */
const DRIFT_STOPS = 1 / 3;

/** Warnings of what changes by more than frames, or the blend of them, can take. */
export function changesDuring({ lightStopsPerMinute, subject }: SceneChanges, taken: TakenSet): BracketWarning[] {
  return [
    ...(lightStopsPerMinute === undefined ? [] : lightDrift(lightStopsPerMinute, taken)),
    ...(subject === undefined ? [] : displacement(subject, taken)),
  ];
}

function lightDrift(lightStopsPerMinute: number, { totalSeconds }: TakenSet): BracketWarning[] {
  const rate = requireInRange("lightStopsPerMinute", lightStopsPerMinute, -20, 20, "stops/min");
  const drift = (Math.abs(rate) * totalSeconds) / 60;
  if (drift <= DRIFT_STOPS) return [];
  const text = `The light changes by ${stopsText(drift)} while the set is taken: shorten it, or meter again for the last frames.`;
  return [{ code: "light-drift", text }];
}

function displacement(subject: BracketSubject, { frames, frameGapSeconds }: TakenSet): BracketWarning[] {
  const { budgetPx } = subject;
  const pxPerSecond = speedOf(subject);
  requirePositive("subject.budgetPx", budgetPx, "px");
  const times = frames.map(({ shutterSeconds }) => shutterSeconds);
  const shifts = frameToFrameDisplacementPx(pxPerSecond, times, frameGapSeconds);
  const worst = Math.max(0, ...shifts);
  if (worst <= budgetPx) return [];
  return [
    {
      code: "subject-displacement",
      text: `What moves shifts by up to ${Math.round(worst)} px between frames: blend it from one frame.`,
      frames: shifts.flatMap((shift, i) => (shift > budgetPx ? [i + 1] : [])),
    },
  ];
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
