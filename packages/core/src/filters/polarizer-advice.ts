import type { PolarizedSky } from "./polarized-sky";
import type { PolarizedWater } from "./polarized-water";

export type PolarizerVerdictCode = "worth-it" | "worth-it-with-care" | "little-effect" | "nothing-to-darken";

/** Whether a polarizer is worth its light here. */
export interface PolarizerVerdict {
  readonly code: PolarizerVerdictCode;
  readonly text: string;
}

export type PolarizerWarningCode = "uneven-sky" | "sky-and-water-disagree";

/** Something that would show in the picture. */
export interface PolarizerWarning {
  readonly code: PolarizerWarningCode;
  readonly text: string;
}

/** The best rotation for the sky against the best for the water. */
export interface PolarizerConflict {
  /** [deg], 0 to 90. */
  readonly apartDeg: number;
  /** What the sky loses of its mean darkening at the water's rotation [stops]. */
  readonly skyLosesStops: number;
  /** What glare the sky's rotation leaves more than the water's [percentage points]. */
  readonly waterKeepsPercent: number;
}

// Our own choice: a difference across the frame that anyone sees
const UNEVEN_FROM_STOPS = 1;
// Our own choice: a third of a stop of sky, or a quarter of the glare, is the least that anyone sees
const SEEN_FROM_STOPS = 1 / 3;
const SEEN_GLARE_PERCENT = 75;
const MATTERS_PERCENT = 25;

export function polarizerWarnings(
  sky: Pick<PolarizedSky, "maxDarkening"> | null,
  conflict: PolarizerConflict | null,
): PolarizerWarning[] {
  const warnings: PolarizerWarning[] = [];
  if (sky !== null && sky.maxDarkening.rangeStops > UNEVEN_FROM_STOPS) {
    const text = `The sky darkens by ${stops(sky.maxDarkening.minStops)} in one part of the frame and by ${stops(sky.maxDarkening.maxStops)} in another: it will look blotched. Turn the filter back, or frame less sky.`;
    warnings.push({ code: "uneven-sky", text });
  }
  // where one of the two loses nothing, the other's rotation serves both
  if (conflict !== null && conflict.skyLosesStops > SEEN_FROM_STOPS && conflict.waterKeepsPercent > MATTERS_PERCENT) {
    const text = `The best rotations for sky and water are ${conflict.apartDeg.toFixed(0)}° apart: set for the water, the sky darkens ${stops(conflict.skyLosesStops)} less; set for the sky, the water keeps ${conflict.waterKeepsPercent.toFixed(0)} % more of its glare.`;
    warnings.push({ code: "sky-and-water-disagree", text });
  }
  return warnings;
}

export function polarizerVerdict(
  sky: Pick<PolarizedSky, "maxDarkening"> | null,
  water: PolarizedWater | null,
  lossStops: number,
): PolarizerVerdict {
  if (sky === null && water === null) {
    return { code: "nothing-to-darken", text: "Neither sky nor water is in the frame." };
  }
  const cost = `it costs ${stops(lossStops)} of light`;
  const helpsSky = sky !== null && sky.maxDarkening.meanStops >= SEEN_FROM_STOPS;
  const helpsWater = water !== null && water.glareLeftPercent <= SEEN_GLARE_PERCENT;
  const gains: string[] = [];
  if (helpsSky) gains.push(`darkens the sky by ${stops(sky.maxDarkening.meanStops)} on the mean`);
  if (helpsWater) gains.push(`leaves ${water.glareLeftPercent.toFixed(0)} % of the glare on the water`);
  if (gains.length === 0) {
    const little = sky === null ? "" : ` The sky in the frame would darken by ${stops(sky.maxDarkening.meanStops)}.`;
    return { code: "little-effect", text: `A polarizer does little here, and ${cost}.${little}` };
  }
  const text = `A polarizer ${gains.join(" and ")}; ${cost}.`;
  const uneven = helpsSky && sky.maxDarkening.rangeStops > UNEVEN_FROM_STOPS;
  if (!uneven) return { code: "worth-it", text };
  return {
    code: "worth-it-with-care",
    text: `${text} Across the frame it differs by ${stops(sky.maxDarkening.rangeStops)}.`,
  };
}

function stops(value: number): string {
  return `${(Math.round(value * 10) / 10 + 0).toFixed(1)} stops`;
}
