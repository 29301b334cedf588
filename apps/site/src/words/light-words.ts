import type { DirectLightInterval, LightWindows } from "@fieldstop/sdk";
import { clockOf, minutesInWords, msOf } from "./place-time";

/** What a session's direct light comes to: the big time, what it is, and why. */
export interface LightSentence {
  /** 18:18, or null where there is no such time. */
  readonly clock: string | null;
  readonly what: string;
  /** One sentence that says why. */
  readonly why: string;
}

const CAUSES: Readonly<Record<DirectLightInterval["endCause"], string>> = {
  terrain: "the ridge",
  horizon: "the horizon",
  facing: "the turn of the slope",
  "day-boundary": "midnight",
};

/** The interval of direct light that a session ends, or in a morning begins. */
export function decisiveInterval(light: LightWindows, part: "evening" | "morning"): DirectLightInterval | undefined {
  return part === "evening" ? light.directLight.intervals.at(-1) : light.directLight.intervals[0];
}

/** When direct light goes, or in a morning comes, and what takes or gives it. */
export function lightSentence(light: LightWindows, part: "evening" | "morning"): LightSentence {
  const interval = decisiveInterval(light, part);
  if (interval === undefined) return noLight(light);
  const evening = part === "evening";
  const instant = evening ? interval.end : interval.start;
  const cause = evening ? interval.endCause : interval.startCause;
  const what = evening ? "direct light goes" : "direct light comes";
  if (cause === "day-boundary" && light.polar === "day") {
    return { clock: null, what: "direct light all night", why: "The sun does not set on this day." };
  }
  const almanac = light.events.find(({ name }) => name === (evening ? "sunset" : "sunrise"));
  return { clock: clockOf(instant), what, why: whyOf(cause, instant, almanac?.instant, evening) };
}

function whyOf(
  cause: DirectLightInterval["endCause"],
  instant: string,
  almanac: string | undefined,
  evening: boolean,
): string {
  const minutes = almanac === undefined ? 0 : (msOf(almanac) - msOf(instant)) / 60_000;
  if (cause === "horizon")
    return evening
      ? "It goes into the open horizon, as the almanac has it."
      : "It comes from the open horizon, as the almanac has it.";
  if (cause !== "terrain") return evening ? `It ends with ${CAUSES[cause]}.` : `It begins with ${CAUSES[cause]}.`;
  if (almanac === undefined) return evening ? "The ridge takes the sun." : "The sun comes over the ridge.";
  if (Math.abs(minutes) < 0.5)
    return `The ridge stands no higher there than the almanac’s horizon, at ${clockOf(almanac)}.`;
  const length = minutesInWords(Math.abs(minutes));
  const when = evening ? (minutes >= 0 ? "before" : "after") : minutes <= 0 ? "after" : "before";
  const name = evening ? "sunset" : "sunrise";
  return evening
    ? `The ridge takes the sun ${length} ${when} the almanac’s ${name} at ${clockOf(almanac)}.`
    : `The sun clears the ridge ${length} ${when} the almanac’s ${name} at ${clockOf(almanac)}.`;
}

function noLight(light: LightWindows): LightSentence {
  const why =
    light.polar === "night"
      ? "It is polar night: the sun stays under the horizon all day. The light there is comes from twilight and the moon."
      : "The sun is up, but the ridge keeps it off this spot all day.";
  return { clock: null, what: "no direct light", why };
}

const NEAR_MS = 12 * 3_600_000;

/** What light does, seen from a moment: how long it is until then, while that is a matter of hours, or that it has happened. */
export function whatInWords(light: LightWindows, part: "evening" | "morning", nowMs: number): string {
  const { clock, what } = lightSentence(light, part);
  const interval = decisiveInterval(light, part);
  if (clock === null || interval === undefined) return what;
  const leftMs = msOf(part === "evening" ? interval.end : interval.start) - nowMs;
  if (Math.abs(leftMs) > NEAR_MS) return what;
  if (leftMs <= 0) return part === "evening" ? "direct light went" : "direct light came";
  return `${what} in ${minutesInWords(leftMs / 60_000)}`;
}

/** How often direct light comes back in a session: the gaps that a notch in the ridge makes. */
export function returnsInWords(light: LightWindows, part: "evening" | "morning"): string | null {
  const { intervals } = light.directLight;
  if (intervals.length < 2) return null;
  const [before, after] = part === "evening" ? intervals.slice(-2) : intervals.slice(0, 2);
  if (before === undefined || after === undefined) return null;
  const gap = minutesInWords((msOf(after.start) - msOf(before.end)) / 60_000);
  const back = minutesInWords((msOf(after.end) - msOf(after.start)) / 60_000);
  return part === "evening"
    ? `It goes behind the ridge at ${clockOf(before.end)} and is back from ${clockOf(after.start)} for ${back}.`
    : `It comes first at ${clockOf(before.start)}, and after ${gap} behind the ridge for good at ${clockOf(after.start)}.`;
}
