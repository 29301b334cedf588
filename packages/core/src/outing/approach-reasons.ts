import type { GraduatedTransition } from "../filters/filter";
import type { SceneTones } from "./scene-tones";

export type ApproachReasonCode =
  | "one-frame-is-enough"
  | "one-frame-may-do"
  | "one-frame-at-a-push"
  | "night-kept-dark"
  | "beyond-one-frame"
  | "sun-in-frame"
  | "graduated-fits"
  | "graduated-not-enough"
  | "over-still-water"
  | "no-graduated-filter"
  | "no-skyline-in-frame"
  | "things-cross-the-skyline"
  | "graduated-does-not-fit"
  | "shadows-give-way"
  | "stars-limit-the-time"
  | "too-dark-for-these-settings"
  | "light-fades-during-the-set";

/** Why an approach was chosen, one step of the reasoning; the code is stable, the text is for people. */
export interface ApproachReason {
  readonly code: ApproachReasonCode;
  readonly text: string;
}

/** "3 stops", "half a stop": to the half stop that light is known to. */
export function stopsWords(stops: number): string {
  const halves = Math.round(Math.abs(stops) * 2) / 2;
  if (halves === 0) return "hardly a stop";
  if (halves === 0.5) return "half a stop";
  return halves === 1 ? "1 stop" : `${halves} stops`;
}

/** "the sky is 4 stops brighter than the ground", or darker, or as bright. */
export function skyAgainstGround(stops: number): string {
  if (Math.abs(stops) < 0.25) return "the sky is as bright as the ground";
  return `the sky is ${stopsWords(stops)} ${stops > 0 ? "brighter" : "darker"} than the ground`;
}

type Told = Pick<SceneTones, "skyEv100" | "groundEv100" | "skyInFrame" | "uncertaintyStops">;

/** A reason about a scene's tones, with the stops that it turns on. */
export function reason(
  code: Exclude<
    ApproachReasonCode,
    | "over-still-water"
    | "no-graduated-filter"
    | "no-skyline-in-frame"
    | "things-cross-the-skyline"
    | "graduated-does-not-fit"
    | "stars-limit-the-time"
    | "too-dark-for-these-settings"
    | "light-fades-during-the-set"
  >,
  tones: Told,
  stops: number,
  filter?: { readonly mark: string; readonly transition: GraduatedTransition },
): ApproachReason {
  const sky = tones.skyInFrame
    ? sentence(skyAgainstGround(tones.skyEv100 - tones.groundEv100))
    : "No sky is in the frame";
  const within = `the light is known to ± ${stopsWords(tones.uncertaintyStops)}`;
  const texts: Readonly<Record<typeof code, string>> = {
    "one-frame-is-enough": `${sky}; one exposure is enough.`,
    "one-frame-may-do": `${sky}; one exposure may do, but ${within}: take a bracket to be safe, and protect the sky.`,
    "one-frame-at-a-push": `${sky}; one exposure holds it only with the shadows lifted afterwards: take a bracket to be safe, and protect the sky.`,
    "night-kept-dark": "One exposure is enough; a stop under the meter keeps the night dark.",
    "beyond-one-frame": `${sky}; one exposure cannot hold both.`,
    "sun-in-frame":
      "The sun is in the frame and will burn out: expose for the glow round it and bracket, stop down for a star, or hide it behind something or wait until it touches the ridge.",
    "graduated-fits": `${sky}; the ${filter?.transition ?? ""} graduated filter (${filter?.mark ?? ""}) leaves it ${stopsWords(tones.skyEv100 - tones.groundEv100 - stops)} brighter.`,
    "graduated-not-enough": `Even through the filter one exposure lacks ${stopsWords(stops)}: bracket through it.`,
    "shadows-give-way": `No set of this camera holds it all: the deepest ${stopsWords(stops)} of the shadows go black.`,
  };
  return { code, text: texts[code] };
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
