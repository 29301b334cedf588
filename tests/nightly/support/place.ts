import type { Place } from "@fieldstop/nightly/places/place";

/** A spot on Ardvane, posted at three in the afternoon. */
export function place(change: Partial<Place> = {}): Place {
  return {
    id: "strand",
    name: "Ardvane Strand",
    latitude: 56.6,
    longitude: -9.4,
    timeZone: "Europe/London",
    postAt: "15:00",
    session: "evening",
    leadDays: 0,
    camera: { azimuthDeg: 290 },
    channels: ["hook"],
    ...change,
  };
}
