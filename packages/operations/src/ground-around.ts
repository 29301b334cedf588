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
export async function groundAround(
  { terrain }: Dependencies,
  { latitude, longitude }: Viewpoint,
): Promise<GroundAround | undefined> {
  const heightAt = terrain?.groundElevationM?.bind(terrain);
  if (heightAt === undefined) return undefined;
  try {
    const here = await heightAt(latitude, longitude);
    if (here === null) return undefined;
    const rays = await Promise.all(
      Array.from({ length: DIRECTIONS }, (_, i) => rayOf(heightAt, latitude, longitude, (360 * i) / DIRECTIONS)),
    );
    return surveyOf(here, rays);
  } catch {
    // the skyline tells of a tile that cannot be used
    return undefined;
  }
}

type HeightAt = (latitude: number, longitude: number) => Promise<number | null>;

/** Heights along one direction, at each ring [m]. */
function rayOf(
  heightAt: HeightAt,
  latitude: number,
  longitude: number,
  azimuthDeg: number,
): Promise<(number | null)[]> {
  const east = Math.sin(azimuthDeg * DEG) / Math.max(0.01, Math.cos(latitude * DEG));
  const north = Math.cos(azimuthDeg * DEG);
  return Promise.all(
    RINGS_M.map((distanceM) => {
      const degrees = distanceM / METRES_PER_DEGREE;
      const lat = Math.max(-90, Math.min(90, latitude + north * degrees));
      const lon = longitude + east * degrees;
      return heightAt(lat, lon > 180 ? lon - 360 : lon < -180 ? lon + 360 : lon);
    }),
  );
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
