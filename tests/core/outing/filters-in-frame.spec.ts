import { findLightWindows, graduatedInFrame, horizonProfileFromPoints } from "@fieldstop/core";
import { describe, expect, it } from "vitest";

const place = { latitude: 56.6, longitude: -9.4, elevationM: 0, eyeHeightM: 1.6 };
const ridge = horizonProfileFromPoints([
  { azimuthDeg: 0, altitudeDeg: 1 },
  { azimuthDeg: 180, altitudeDeg: 1 },
]);

describe("graduatedInFrame", () => {
  it("takes the ground for lit until the instant at which direct light goes, to the second", () => {
    const horizon = { kind: "profile", profile: ridge } as const;
    const day = findLightWindows({ place, date: "2027-03-20", timeZone: "Etc/UTC", horizon });
    const lastMs = Date.parse(day.directLight.lastInstant as string);
    const contrastAt = (seconds: number) =>
      graduatedInFrame({
        instantMs: lastMs + seconds * 1000,
        observer: place,
        camera: { azimuthDeg: 290, focalLengthMm: 24 },
        profile: ridge,
        subject: { facingAzimuthDeg: 270, slopeDeg: 90 },
      }).contrastStops;
    // losing the sun darkens a wall that faces it at once; two seconds of dusk do not
    const jump = contrastAt(1) - contrastAt(-1);
    expect(jump).toBeGreaterThan(0.1);
    for (const seconds of [-7, -5, -3, 3, 5, 7]) {
      expect(Math.abs(contrastAt(seconds + 1) - contrastAt(seconds - 1))).toBeLessThan(jump / 10);
    }
  });
});
