import { turnDeg } from "../words/bearing";

/** A frame as it is held: its field, and where a direction falls in it. */
export interface FrameGeometry {
  /** Sides of the image as held [mm]. */
  readonly widthMm: number;
  readonly heightMm: number;
  readonly fieldDeg: number;
  /** From the left and from the top, 0 to 1; null behind the camera. */
  toFrame(azimuthDeg: number, altitudeDeg: number): { readonly x: number; readonly y: number } | null;
}

export interface HeldCamera {
  readonly azimuthDeg: number;
  readonly pitchDeg: number;
  readonly focalLengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

const DEG = Math.PI / 180;

/** Straight lines stay straight, as through a usual lens; for what is drawn into the frame beside the skyline that the library projects. */
export function frameGeometry({ azimuthDeg, pitchDeg, focalLengthMm, widthMm, heightMm }: HeldCamera): FrameGeometry {
  const pitch = pitchDeg * DEG;
  return {
    widthMm,
    heightMm,
    fieldDeg: (2 * Math.atan(widthMm / 2 / focalLengthMm)) / DEG,
    toFrame: (toAzimuthDeg, altitudeDeg) => {
      const turn = turnDeg(azimuthDeg, toAzimuthDeg) * DEG;
      const altitude = altitudeDeg * DEG;
      const ahead = Math.cos(altitude) * Math.cos(turn);
      const up = Math.sin(altitude);
      const depth = ahead * Math.cos(pitch) + up * Math.sin(pitch);
      if (depth < 0.05) return null;
      const right = Math.cos(altitude) * Math.sin(turn);
      const over = up * Math.cos(pitch) - ahead * Math.sin(pitch);
      return {
        x: 0.5 + ((right / depth) * focalLengthMm) / widthMm,
        y: 0.5 - ((over / depth) * focalLengthMm) / heightMm,
      };
    },
  };
}
