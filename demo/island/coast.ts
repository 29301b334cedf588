import type { MapPoint } from "./frame";
import { layeredNoise } from "./noise";
import { footOnSegment, smoothStep } from "./shapes";

/** East and north [km] of a corner of the coast, and how high the edge of the land stands there [m]. */
type CoastCorner = readonly [eastKm: number, northKm: number, cliffM: number];

// From the south end of the strand round the bay's east side, the north, the east, the south, the Atlantic side of the
// Rig, Gannet Head, and back down the bay's west side to its head.
const COAST: readonly CoastCorner[] = [
  [0.25, -1.0, 1],
  [0.68, -0.1, 0],
  [1.02, 0.85, 1],
  [1.22, 1.5, 8],
  [1.1, 2.1, 14],
  [1.65, 2.7, 25],
  [1.75, 3.3, 35],
  [2.6, 3.95, 55],
  [3.5, 3.65, 50],
  [4.3, 3.85, 45],
  [5.2, 3.2, 30],
  [6.0, 3.1, 25],
  [6.9, 2.1, 20],
  [7.9, 1.75, 25],
  [8.35, 0.9, 20],
  [7.7, 0.25, 10],
  [6.7, -0.1, 4],
  [6.1, -0.55, 3],
  [6.8, -0.85, 6],
  [7.25, -1.6, 15],
  [6.7, -2.4, 20],
  [5.9, -2.9, 25],
  [4.8, -3.9, 40],
  [3.4, -4.35, 60],
  [2.0, -4.1, 45],
  [1.0, -4.45, 30],
  [-0.2, -4.15, 12],
  [-1.0, -3.85, 6],
  [-1.9, -4.35, 20],
  [-3.0, -4.2, 60],
  [-4.1, -3.6, 90],
  [-4.75, -2.6, 110],
  [-4.9, -1.6, 100],
  [-5.35, -0.7, 120],
  [-5.2, 0.3, 110],
  [-4.8, 1.0, 60],
  [-4.95, 1.9, 110],
  [-4.4, 2.8, 120],
  [-4.1, 3.7, 125],
  [-3.45, 4.3, 115],
  [-2.85, 4.15, 95],
  [-2.6, 3.3, 45],
  [-2.35, 2.4, 20],
  [-2.4, 1.5, 10],
  [-2.15, 0.6, 8],
  [-2.3, -0.4, 6],
  [-1.95, -1.2, 3],
  [-1.2, -1.85, 1],
  [-0.4, -1.65, 1],
];

/** Rocks off the coast: centre, radius [km] and how high they stand [m]. */
const SKERRIES: readonly (readonly [eastKm: number, northKm: number, radiusKm: number, heightM: number])[] = [
  [-3.95, 4.75, 0.2, 48],
  [-4.4, 4.5, 0.13, 30],
  [0.1, 3.9, 0.17, 7],
  [0.45, 4.15, 0.12, 5],
  [-5.6, -2.55, 0.17, 36],
  [8.9, 0.35, 0.2, 9],
  [5.3, -4.2, 0.16, 12],
];

/** The two ends and the middle of the strand: it runs north-north-east and faces west-north-west. */
const STRAND = { south: COAST[0] as CoastCorner, middle: COAST[1] as CoastCorner, north: COAST[2] as CoastCorner };

/** 1 on the strand and close behind it, 0 from 0.6 km away. */
export function strandWeight({ eastKm, northKm }: MapPoint): number {
  const { south, middle, north } = STRAND;
  const a = footOnSegment(eastKm, northKm, south[0], south[1], middle[0], middle[1]).distance;
  const b = footOnSegment(eastKm, northKm, middle[0], middle[1], north[0], north[1]).distance;
  return smoothStep(0.6, 0.2, Math.min(a, b));
}

/** Distance [km] to the drawn outline, positive on land. */
function distanceInsideOutline(eastKm: number, northKm: number): number {
  let nearest = Number.POSITIVE_INFINITY;
  let inside = false;
  for (let i = 0, j = COAST.length - 1; i < COAST.length; j = i++) {
    const [x1, y1] = COAST[j] as CoastCorner;
    const [x2, y2] = COAST[i] as CoastCorner;
    nearest = Math.min(nearest, footOnSegment(eastKm, northKm, x1, y1, x2, y2).distance);
    if (y1 > northKm !== y2 > northKm && eastKm < x1 + ((northKm - y1) / (y2 - y1)) * (x2 - x1)) inside = !inside;
  }
  return inside ? nearest : -nearest;
}

/** Distance [km] to the shore, positive on land: the drawn outline, worn into points and inlets except along the strand. */
export function distanceInland(point: MapPoint): number {
  const { eastKm, northKm } = point;
  const rough = 1 - strandWeight(point);
  const shiftEast = 0.55 * rough * layeredNoise(eastKm, northKm, 1.3, 5, 101);
  const shiftNorth = 0.55 * rough * layeredNoise(eastKm, northKm, 1.3, 5, 151);
  let distance =
    distanceInsideOutline(eastKm + shiftEast, northKm + shiftNorth) +
    0.1 * rough * layeredNoise(eastKm, northKm, 0.5, 3, 201);
  for (const [x, y, radius] of SKERRIES) {
    const dx = eastKm - x;
    const dy = northKm - y;
    const off = Math.sqrt(dx * dx + dy * dy) - radius;
    if (off < radius) distance = Math.max(distance, 0.12 * layeredNoise(eastKm, northKm, 0.3, 3, 251) - off);
  }
  return distance;
}

/** Height [m] of the edge of the land near a point: the top of the cliff, or next to nothing on a beach. */
export function coastEdgeM({ eastKm, northKm }: MapPoint): number {
  let sum = 0;
  let weights = 0;
  for (const [x, y, cliffM] of COAST) {
    const squared = (eastKm - x) * (eastKm - x) + (northKm - y) * (northKm - y) + 0.04;
    const weight = 1 / (squared * squared);
    sum += weight * cliffM;
    weights += weight;
  }
  return sum / weights;
}

/** Height [m] of the skerry a point belongs to, or null on the main island. */
export function skerryHeightM({ eastKm, northKm }: MapPoint): number | null {
  for (const [x, y, radius, heightM] of SKERRIES) {
    const dx = eastKm - x;
    const dy = northKm - y;
    const fromCentre = Math.sqrt(dx * dx + dy * dy) / radius;
    if (fromCentre < 1.6) return heightM * smoothStep(1.9, 0, fromCentre);
  }
  return null;
}
