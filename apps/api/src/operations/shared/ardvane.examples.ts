/** The island of all examples does not exist: its places, cameras and bags are ours. */
export const STRAND = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };
export const SLACK_VIEW = { name: "Slack View", latitude: 56.6119, longitude: -9.3923 };
export const CAMERA = { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 } as const;
export const BAG = [
  { kind: "nd", stops: 6 },
  { kind: "graduated", stops: 3, transition: "soft" },
  { kind: "polarizer" },
] as const;
/** A ridge across the bay, for those who have no elevation data. */
export const RIDGE = {
  kind: "profile",
  points: [
    { azimuthDeg: 0, altitudeDeg: 0 },
    { azimuthDeg: 240, altitudeDeg: 0.4 },
    { azimuthDeg: 268, altitudeDeg: 2.6 },
    { azimuthDeg: 290, altitudeDeg: 4.1 },
    { azimuthDeg: 315, altitudeDeg: 1.2 },
  ],
} as const;
