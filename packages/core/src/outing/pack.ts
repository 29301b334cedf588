import { handHeldLimitSeconds } from "../exposure/hand-held";
import { bulbWords } from "../exposure/shutter-words";
import type { Temperature } from "./assumed-temperature";
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
  | "water"
  | "polarizer"
  | "neutral-density"
  | "graduated-filter"
  | "lens-hood"
  | "lens-cloth"
  | "spare-battery";

export interface PackRequest {
  readonly moments: readonly OutingMoment[];
  readonly camera: PlannedCamera;
  readonly minutesOutside: number;
  /** Whether the way there or back is in the dark. */
  readonly dark: boolean;
  readonly temperature: Temperature;
  /** What a polarizer is good for in this frame beside the sky; undefined where it is not in the bag or does nothing. */
  readonly polarizerFor: string | undefined;
  /** Whether spray or fog may settle on the lens, and why. */
  readonly wetLens: string | undefined;
}

// Common practice: standing still is cold below about this
const WARM_LAYER_BELOW_C = 12;
// Common practice: cells lose much of their charge below freezing
const COLD_BATTERY_C = 0;
const HOT_C = 30;
const LONG_WAIT_MINUTES = 90;
const LONGEST_TIMED_SECONDS = 30;

/** What to take, each thing with its reason; nothing is on the list that the plan does not use. */
export function packOf(request: PackRequest): PackItem[] {
  const items: PackItem[] = [];
  const add = (item: PackItemName, why: string): void => {
    items.push({ item, why });
  };
  addForFrames(request, add);
  addForPlace(request, add);
  return items;
}

type Add = (item: PackItemName, why: string) => void;

function addForFrames({ moments, camera, polarizerFor, wetLens }: PackRequest, add: Add): void {
  const longest = Math.max(...moments.map(longestSeconds));
  const { focalLengthMm, cropFactor } = camera;
  const frames = Math.max(...moments.map(({ bracket }) => bracket?.count ?? 1));
  const marksOf = (marks: readonly (string | undefined)[]): string[] => [
    ...new Set(marks.filter((mark) => mark !== undefined)),
  ];
  const stacked = marksOf(moments.flatMap(({ longExposure }) => longExposure?.filters ?? []));
  const graduated = marksOf(moments.map((moment) => moment.graduated?.mark));
  if (frames > 1) add("tripod", `${frames} frames must lie on each other`);
  else if (longest > handHeldLimitSeconds({ focalLengthMm, cropFactor })) {
    add("tripod", `${secondsText(longest)} is longer than a hand holds still`);
  }
  if (longest > LONGEST_TIMED_SECONDS) add("remote-release", "times past 30 s need bulb and a timer");
  for (const mark of stacked.filter((one) => one !== "polarizer")) {
    add("neutral-density", `${mark}, for the shutter time that is wanted`);
  }
  for (const mark of graduated) add("graduated-filter", `${mark}, to hold the sky`);
  if (polarizerFor !== undefined) add("polarizer", polarizerFor);
  else if (stacked.includes("polarizer")) add("polarizer", "only as part of the stack that reaches the shutter time");
  if (moments.some(({ sunInFrame, directLight, sunBesideFrame }) => !sunInFrame && directLight && sunBesideFrame)) {
    add("lens-hood", "the sun shines on the lens from beside the frame");
  }
  if (stacked.length + graduated.length > 0) add("lens-cloth", "spray and breath settle on filters");
  else if (wetLens !== undefined) add("lens-cloth", wetLens);
}

function addForPlace({ moments, temperature, dark, minutesOutside }: PackRequest, add: Add): void {
  const { temperatureC, isKnown } = temperature;
  const degrees = `${Math.round(temperatureC)} °C${isKnown ? "" : ", as the season and the height go"}`;
  if (dark) add("lamp", "it is dark on the way");
  if (temperatureC <= COLD_BATTERY_C) add("spare-battery", `${degrees}: keep it next to the body`);
  else if (moments.some((moment) => longestSeconds(moment) > LONGEST_TIMED_SECONDS)) {
    add("spare-battery", "long exposures drain one");
  }
  const standing = `${Math.round(minutesOutside)} minutes standing still at ${degrees}`;
  if (
    temperatureC < WARM_LAYER_BELOW_C ||
    (minutesOutside > LONG_WAIT_MINUTES && temperatureC < WARM_LAYER_BELOW_C + 5)
  ) {
    add("warm-layer", standing);
  }
  if (temperatureC >= HOT_C) add("water", degrees);
}

function longestSeconds({ exposure, bracket, longExposure }: OutingMoment): number {
  return Math.max(
    exposure.shutter.seconds,
    ...(bracket?.frames ?? []).map(({ shutterSeconds }) => shutterSeconds),
    longExposure?.corrected?.seconds ?? 0,
  );
}

function secondsText(seconds: number): string {
  return seconds >= 1 ? bulbWords(seconds) : `1/${Math.round(1 / seconds)} s`;
}
