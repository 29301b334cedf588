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

export type CautionCode =
  | "sun-through-optics"
  | "tide-and-swell"
  | "dark-paths"
  | "cliffs"
  | "steep-ground"
  | "mud-flats"
  | "wildlife"
  | "thin-air"
  | "cold-and-ice"
  | "heat";

// Common practice: the usual warnings of lens makers, coastguards, mountain rescue and land managers; no single source.
const TEXTS: Readonly<Record<Exclude<CautionCode, "sun-through-optics">, string>> = {
  "tide-and-swell":
    "Tides, swell and weather can cut off a shore: read the local tide tables and warnings, and leave time to get back.",
  "dark-paths": "It will be dark on the way: carry a lamp, know the path, and tell someone where you are.",
  cliffs: "There are cliffs near here and edges crumble: keep to signed paths and follow the local signs and wardens.",
  "steep-ground":
    "The ground near here is steep: keep to paths that you know, more so in the dark, and follow the local signs.",
  "mud-flats":
    "Tidal mud and soft sand can hold you while the water comes: keep to firm ground and ask people who know the shore.",
  wildlife: "Keep away from nesting and resting animals; local wardens, licences and closures come first.",
  "thin-air": "The air is thin at this height: go up slowly, and come down if you feel ill.",
  "cold-and-ice": "It is freezing: paths and rocks may be icy, and hands and batteries fail in the cold.",
  heat: "It is hot: carry water, cover your head, and leave nothing in the sun that should not get hot.",
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
