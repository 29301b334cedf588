import type { GroundAround } from "@fieldstop/core/outing";
import type { Dependencies, Viewpoint } from "./dependencies";

// A short walk from the spot: close enough to fall off, and to be cut off
const RINGS_M = [30, 80, 150, 250, 400];
const DIRECTIONS = 8;
const FLAT_WITHIN_M = 80;
const FLAT_DEG = 4;
const SEA_LEVEL_M = 0.5;
// WGS 84, a degree of latitude to a per cent
const METRES_PER_DEGREE = 111_195;
const DEG = Math.PI / 180;

/**
 * Survey the ground within a short walk by elevation data: how far the sea lies, how steep it gets, whether the spot is flat.
 * @returns undefined where no elevation data covers the place, or its tile cannot be used
 * Accuracy: that of the data; at 30 to 90 m between nodes a cliff shows as a steep slope, and a low one not at all. Ground at sea level by a lake below
 * the sea is taken for sea.
 */
export async function groundAround({ terrain }: Dependencies, place: Viewpoint): Promise<GroundAround | undefined> {
  if (terrain?.groundElevationsM === undefined) return undefined;
  const azimuthsDeg = Array.from({ length: DIRECTIONS }, (_, i) => (360 * i) / DIRECTIONS);
  const points = azimuthsDeg.flatMap((azimuthDeg) => RINGS_M.map((distanceM) => pointAt(place, azimuthDeg, distanceM)));
  try {
    const [here, ...round] = await terrain.groundElevationsM([place, ...points]);
    if (here === null || here === undefined) return undefined;
    return surveyOf(
      here,
      azimuthsDeg.map((_, i) => round.slice(i * RINGS_M.length, (i + 1) * RINGS_M.length)),
    );
  } catch {
    // the skyline tells of a tile that cannot be used
    return undefined;
  }
}

function pointAt({ latitude, longitude }: Viewpoint, azimuthDeg: number, distanceM: number): Viewpoint {
  const degrees = distanceM / METRES_PER_DEGREE;
  const east = Math.sin(azimuthDeg * DEG) / Math.max(0.01, Math.cos(latitude * DEG));
  const there = longitude + east * degrees;
  return {
    latitude: Math.max(-90, Math.min(90, latitude + Math.cos(azimuthDeg * DEG) * degrees)),
    longitude: there > 180 ? there - 360 : there < -180 ? there + 360 : there,
  };
}

function surveyOf(hereM: number, rays: readonly (readonly (number | null)[])[]): GroundAround {
  let seaWithinM: number | null = null;
  let steepestDeg = 0;
  let isFlat = true;
  for (const ray of rays) {
    let beforeM = hereM;
    let beforeAtM = 0;
    for (const [i, heightM] of ray.entries()) {
      const distanceM = RINGS_M[i] as number;
      if (heightM !== null && heightM <= SEA_LEVEL_M && (seaWithinM === null || distanceM < seaWithinM)) {
        seaWithinM = distanceM;
      }
      const slopeDeg = Math.abs(Math.atan2((heightM ?? 0) - beforeM, distanceM - beforeAtM)) / DEG;
      if (heightM !== null) steepestDeg = Math.max(steepestDeg, slopeDeg);
      if (distanceM <= FLAT_WITHIN_M && slopeDeg > FLAT_DEG) isFlat = false;
      beforeM = heightM ?? 0;
      beforeAtM = distanceM;
    }
  }
  return { seaWithinM, steepestDeg, isFlat };
}
