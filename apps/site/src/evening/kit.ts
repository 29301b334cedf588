import type { CameraInput, FilterInput } from "@fieldstop/sdk";

/** The bag and the camera that the club reckons with, until a reader says otherwise. */
export interface Kit {
  readonly sensor: "full-frame" | "aps-c" | "four-thirds" | "medium-44x33";
  readonly aperture: number;
  readonly iso: number;
  /** From clipping down to the noise floor [stops]. */
  readonly frameHoldsStops: number;
  readonly graduated: "none" | "soft" | "hard";
  readonly polarizer: boolean;
}

export const USUAL_KIT: Kit = {
  sensor: "full-frame",
  aperture: 11,
  iso: 100,
  frameHoldsStops: 9,
  graduated: "soft",
  polarizer: true,
};

export const USUAL_FOCAL_LENGTH_MM = 24;

// Common practice: three stops above the meter; the rest lies below it
export const HEADROOM_STOPS = 3;

export function cameraOf(kit: Kit): CameraInput {
  const { sensor, aperture, iso, frameHoldsStops } = kit;
  return { sensor, aperture, iso, headroomStops: HEADROOM_STOPS, footroomStops: frameHoldsStops - HEADROOM_STOPS };
}

/** Graduated filters of two and three stops, where they are in the bag. */
export function filtersOf({ graduated, polarizer }: Kit): FilterInput[] {
  return [
    ...(graduated === "none"
      ? []
      : [2, 3].map((stops): FilterInput => ({ kind: "graduated", stops, transition: graduated }))),
    ...(polarizer ? [{ kind: "polarizer" } as const] : []),
  ];
}
