const POINTS = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"] as const;
const LETTERS = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"] as const;

/** A direction in words: south-west. */
export function bearingInWords(azimuthDeg: number): string {
  return POINTS[eighth(azimuthDeg)] as string;
}

/** A direction as a compass rose has it: SW. */
export function bearingLetters(azimuthDeg: number): string {
  return LETTERS[eighth(azimuthDeg)] as string;
}

/** An azimuth within 0 to 360. */
export function roundCompass(azimuthDeg: number): number {
  return ((azimuthDeg % 360) + 360) % 360;
}

/** From one azimuth to another, −180 to 180. */
export function turnDeg(from: number, to: number): number {
  return roundCompass(to - from + 180) - 180;
}

function eighth(azimuthDeg: number): number {
  return Math.round(roundCompass(azimuthDeg) / 45) % 8;
}
