import { handHeldLimitSeconds } from "../exposure/hand-held";
import type { PlannedCamera } from "./camera";
import type { OutingMoment } from "./plan-moment";

/** Something to take along, and why. */
export interface PackItem {
  readonly item: PackItemName;
  readonly why: string;
}

export type PackItemName =
  | "tripod"
  | "remote-release"
  | "lamp"
  | "warm-layer"
  | "polarizer"
  | "neutral-density"
  | "graduated-filter"
  | "lens-cloth"
  | "spare-battery";

/** What a plan really uses. */
interface PackNeeds {
  /** Longest shutter time that the plan uses [s]. */
  readonly maxShutterSeconds: number;
  readonly handHeldLimitSeconds: number;
  readonly bracketFrames: number;
  /** Filters as they are marked. */
  readonly graduated: readonly string[];
  readonly neutralDensity: readonly string[];
  readonly polarizer: boolean;
  /** Whether the way back, or the way there, is in the dark. */
  readonly dark: boolean;
  readonly minutesOutside: number;
}

/**
 * What to take, each thing with its reason; nothing is on the list that the plan does not use.
 * @param minutesOutside [min]
 * @param dark whether the way there or back is in the dark
 */
export function packOf(
  moments: readonly OutingMoment[],
  camera: PlannedCamera,
  minutesOutside: number,
  dark: boolean,
): PackItem[] {
  const times = moments.flatMap(({ exposure, bracket, longExposure }) => [
    exposure.shutter.seconds,
    ...(bracket?.frames ?? []).map(({ shutterSeconds }) => shutterSeconds),
    ...(longExposure?.corrected == null ? [] : [longExposure.corrected.seconds]),
  ]);
  const stacked = moments.flatMap(({ longExposure }) => (longExposure?.meetsWanted ? longExposure.filters : []));
  const { focalLengthMm, cropFactor } = camera;
  return itemsFor({
    maxShutterSeconds: Math.max(...times),
    handHeldLimitSeconds: handHeldLimitSeconds({ focalLengthMm, cropFactor }),
    bracketFrames: Math.max(...moments.map(({ bracket }) => bracket?.count ?? 1)),
    graduated: [...new Set(moments.flatMap(({ graduated }) => (graduated === undefined ? [] : [graduated.mark])))],
    neutralDensity: [...new Set(stacked.filter((mark) => mark !== "polarizer"))],
    polarizer: stacked.includes("polarizer"),
    dark,
    minutesOutside,
  });
}

function itemsFor(needs: PackNeeds): PackItem[] {
  const items: PackItem[] = [];
  const add = (item: PackItemName, why: string): void => {
    items.push({ item, why });
  };
  if (needs.bracketFrames > 1) add("tripod", `${needs.bracketFrames} frames must lie on each other`);
  else if (needs.maxShutterSeconds > needs.handHeldLimitSeconds) {
    add("tripod", `${secondsText(needs.maxShutterSeconds)} is longer than a hand holds still`);
  }
  if (needs.maxShutterSeconds > 30) add("remote-release", "times past 30 s need bulb and a timer");
  for (const mark of needs.neutralDensity) add("neutral-density", `${mark}, for the shutter time that is wanted`);
  for (const mark of needs.graduated) add("graduated-filter", `${mark}, to hold the sky`);
  if (needs.polarizer) add("polarizer", "part of the stack that reaches the shutter time");
  if (needs.dark) add("lamp", "it is dark on the way");
  if (needs.neutralDensity.length + needs.graduated.length > 0) add("lens-cloth", "spray and breath settle on filters");
  if (needs.maxShutterSeconds > 30) add("spare-battery", "long exposures in the cold drain one");
  if (needs.minutesOutside > 90) add("warm-layer", `${Math.round(needs.minutesOutside)} minutes standing still`);
  return items;
}

function secondsText(seconds: number): string {
  return seconds >= 1 ? `${Math.round(seconds)} s` : `1/${Math.round(1 / seconds)} s`;
}
