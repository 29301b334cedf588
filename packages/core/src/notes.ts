/**
 * Assumptions and cautions that answers carry.
 * @module
 */
/** A guess that an answer rests on: which field, the value taken for it, and why. */
export interface Assumption {
  readonly field: string;
  readonly value: string | number | boolean;
  readonly why: string;
}

/** Something that can hurt. The code is stable; the text is for people. */
export interface Caution {
  readonly code: CautionCode;
  readonly text: string;
}

export type CautionCode = "sun-through-optics" | "tide-and-swell" | "dark-paths" | "cliffs-and-mud" | "wildlife";

// Common practice: the usual warnings of lens makers, coastguards and land managers; no single source.
const TEXTS: Readonly<Record<Exclude<CautionCode, "sun-through-optics">, string>> = {
  "tide-and-swell":
    "Tides, swell and weather can cut off a shore: read the local tide tables and warnings, and leave time to get back.",
  "dark-paths": "It will be dark on the way back: carry a lamp, know the path, and tell someone where you are.",
  "cliffs-and-mud":
    "Edges crumble and mud flats can hold you: keep to signed paths and follow the local signs and wardens.",
  wildlife: "Keep away from nesting and resting animals; local wardens, licences and closures come first.",
};

/** The one caution of pages that only reckon exposures, which need not carry the others. */
export function sunThroughOptics(): Caution {
  const text = "Never look at the sun through a lens or an optical finder; photographic filters are not solar filters.";
  return { code: "sun-through-optics", text };
}

/** Make the caution for a code, with its English text. */
export function caution(code: CautionCode): Caution {
  return code === "sun-through-optics" ? sunThroughOptics() : { code, text: TEXTS[code] };
}
