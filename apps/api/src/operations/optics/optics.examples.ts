const LENS = { sensor: "full-frame", focalLengthMm: 24, aperture: 11 } as const;

export const DEPTH_OF_FIELD = {
  "shells-to-the-ridge": {
    summary: "Sharp from ninety centimetres to the ridge",
    value: { ...LENS, wantedNearM: 0.9 },
  },
};

export const FOCUS_STACK = {
  "from-forty-centimetres": { summary: "Frames from forty centimetres to infinity", value: { ...LENS, nearM: 0.4 } },
};

export const ANGLE_OF_VIEW = {
  "cut-to-16-9": {
    summary: "What 24 mm takes in, and what a wide cut leaves of it",
    value: { sensor: "full-frame", focalLengthMm: 24, cropAspect: "16:9" },
  },
} as const;

export const PANORAMA = {
  "half-the-compass": {
    summary: "Half the compass at 35 mm, upright",
    value: { sensor: "full-frame", focalLengthMm: 35, horizontalDeg: 180, verticalDeg: 50, azimuthDeg: 290 },
  },
} as const;
