import { travelOf } from "../bracketing/bracket-set";
import { ev100FromEv, exposureValue } from "../exposure/exposure-value";
import { readAperture, readIso } from "../exposure/settings";
import { bulbWords } from "../exposure/shutter-words";
import type { Approach } from "./approach";
import { stopsWords } from "./approach-reasons";
import type { PlannedCamera } from "./camera";
import { LONGEST_ADVISED_SECONDS } from "./long-exposures";

// Our own choice: so much less exposure than wanted is not seen
const HARDLY_SHORT_STOPS = 0.25;

/** An approach whose times are ones that someone would expose: the stars and fifteen minutes are the limits. */
export function withinTimeLimits(
  approach: Approach,
  { aperture, iso }: PlannedCamera,
  trailSeconds: number | undefined,
): Approach {
  const limit = Math.min(LONGEST_ADVISED_SECONDS, trailSeconds ?? LONGEST_ADVISED_SECONDS);
  const darkestAllowed = ev100FromEv(exposureValue(readAperture(aperture).exact, limit), readIso(iso).exact);
  const { set, ...rest } = approach;
  const half = set === undefined ? 0 : travelOf(set) / 2;
  if (approach.exposeForEv100 - half >= darkestAllowed) return approach;
  const exposeForEv100 = Math.max(approach.oneFrameEv100, darkestAllowed);
  const short = exposeForEv100 - approach.oneFrameEv100;
  const needsSet = approach.kind === "bracket" || approach.kind === "graduated-and-bracket";
  // one frame that may do does without its set
  if (short < HARDLY_SHORT_STOPS && !needsSet) return { ...rest, exposeForEv100 };
  const stars = trailSeconds !== undefined && trailSeconds < LONGEST_ADVISED_SECONDS;
  const code = stars ? "stars-limit-the-time" : "too-dark-for-these-settings";
  const remedy =
    short < HARDLY_SHORT_STOPS ? "for the set" : `each: open up or raise the ISO by ${stopsWords(short)} together`;
  const text = stars
    ? `Stars draw trails after ${bulbWords(limit)}: the frame is for the sky, and the ground goes dark or into a frame of its own.`
    : `Frames of over ${bulbWords(limit)} would be needed ${remedy}.`;
  return {
    ...rest,
    kind: "beyond-one-set",
    exposeForEv100,
    reasons: [...approach.reasons.filter(({ code: one }) => one !== "night-kept-dark"), { code, text }],
  };
}
