import { BAG, STRAND } from "../shared/ardvane.examples";

export const EXPOSURE = {
  "ten-stops-by-day": {
    summary: "EV 12 at f/8 behind the bag's filters",
    value: { ev100: 12, aperture: 8, iso: 100, filters: [...BAG] },
  },
  "incident-reading": {
    summary: "From an incident meter, for a shutter that is wanted",
    value: { illuminanceLux: 5120, shutterSeconds: 0.008, iso: 100 },
  },
};

export const EQUIVALENTS = {
  "by-hand-in-the-evening": {
    summary: "Every pair at EV 10, and which of them can be held by hand",
    value: { ev100: 10, iso: 400, handHeld: { focalLengthMm: 35, stabilisationStops: 3 } },
  },
};

export const LONG_EXPOSURE = {
  "dusk-behind-six-stops": {
    summary: "How long behind six stops while the light falls",
    value: {
      place: STRAND,
      instant: "2027-03-20T18:50:00Z",
      aperture: 11,
      iso: 100,
      filters: [{ kind: "nd", stops: 6 }],
      ev100: 7,
    },
  },
} as const;

export const FILTER_STACK = {
  "six-and-a-polarizer": {
    summary: "What six stops and a polarizer make of half a second",
    value: { filters: [{ kind: "nd", stops: 6 }, { kind: "polarizer" }], baseShutterSeconds: 0.5 },
  },
} as const;

export const FILTER_SELECTION = {
  "thirty-seconds-wanted": {
    summary: "Which filters make thirty seconds of a fifteenth",
    value: {
      filters: [
        { kind: "nd", stops: 3 },
        { kind: "nd", stops: 6 },
        { kind: "nd", stops: 10 },
      ],
      baseShutterSeconds: 0.0667,
      wantedShutterSeconds: 30,
    },
  },
} as const;

const EVENING_FRAME = {
  place: STRAND,
  instant: "2027-03-20T17:30:00Z",
  camera: { sensor: "full-frame", focalLengthMm: 24, azimuthDeg: 340, pitchDeg: 5 },
} as const;

export const POLARIZER = {
  "north-of-the-sun": {
    summary: "What a polarizer does for the sky and for wet sand",
    value: { ...EVENING_FRAME, water: { surface: "wet-sand" } },
  },
} as const;

export const GRADUATED = {
  "over-the-ridge": { summary: "Which graduated filter fits the ridge and the contrast", value: EVENING_FRAME },
} as const;

export const BRACKET = {
  "thirteen-stops": {
    summary: "Shadows at EV 3, the sky at EV 16",
    value: {
      shadowEv100: 3,
      highlightEv100: 16,
      camera: { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, dynamicRangeStops: 11 },
    },
  },
} as const;

/** Pixels of one channel: as many in each bin, but for some that clip or are black. */
function bins(black: number, white: number): number[] {
  return Array.from({ length: 256 }, (_, bin) => (bin === 0 ? black : bin === 255 ? white : 100));
}

const frame = (biasStops: number, black: number, white: number) => {
  const channel = bins(black, white);
  return { biasStops, histogram: { red: channel, green: channel, blue: channel }, coding: "srgb" } as const;
};

export const BRACKET_REVIEW = {
  "three-frames": {
    summary: "Three frames, two stops apart; the darkest still clips a little",
    value: { frames: [frame(-2, 900, 60), frame(0, 300, 400), frame(2, 0, 2600)] },
  },
};
