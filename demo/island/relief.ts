import { coastEdgeM } from "./coast";
import type { MapPoint } from "./frame";
import { layeredNoise } from "./noise";
import { footOnSegment, smoothMax, smoothStep } from "./shapes";

type CrestPoint = readonly [eastKm: number, northKm: number, heightM: number];

interface Crest {
  readonly points: readonly CrestPoint[];
  /** How far its flanks reach to either side. */
  readonly reachKm: number;
}

// The Rig, the long ridge across the bay from the strand, from the bealach in the south to Gannet Head in the north.
const RIG: Crest = {
  points: [
    [-2.1, -3.25, 170],
    [-2.75, -2.75, 300],
    [-3.15, -2.0, 375],
    [-3.45, -1.1, 420],
    [-3.5, -0.3, 385],
    [-3.48, 0.45, 415],
    [-3.45, 1.05, 400],
    [-3.4, 1.6, 415],
    [-3.35, 2.3, 385],
    [-3.3, 3.0, 335],
    [-3.35, 3.7, 235],
  ],
  reachKm: 1.35,
};

const CRESTS: readonly Crest[] = [
  RIG,
  {
    // a shoulder of the Rig above the bay
    points: [
      [-3.45, 0.2, 340],
      [-2.9, -0.1, 210],
      [-2.3, -0.1, 90],
    ],
    reachKm: 0.8,
  },
  {
    // another, farther up the bay
    points: [
      [-3.2, -1.5, 340],
      [-2.6, -1.2, 210],
      [-2.1, -1.3, 80],
    ],
    reachKm: 0.8,
  },
  {
    // its buttress over the Atlantic
    points: [
      [-3.5, -0.9, 370],
      [-4.2, -0.6, 270],
      [-4.9, -0.5, 170],
    ],
    reachKm: 0.9,
  },
  {
    // its south-west shoulder
    points: [
      [-2.9, -2.5, 310],
      [-3.7, -2.8, 220],
      [-4.4, -3.0, 130],
    ],
    reachKm: 0.9,
  },
  {
    // the Ward's west spur, toward the strand
    points: [
      [3.9, 1.1, 400],
      [3.0, 0.5, 215],
      [2.4, 0.5, 90],
    ],
    reachKm: 0.9,
  },
  {
    // the Ward and its long north-west and east shoulders
    points: [
      [2.3, 3.2, 110],
      [2.7, 2.5, 250],
      [3.5, 1.6, 370],
      [4.2, 0.9, 500],
      [4.9, 0.95, 400],
      [5.7, 0.6, 310],
      [6.5, 0.85, 230],
      [7.5, 1.0, 110],
    ],
    reachKm: 1.6,
  },
  {
    // its north-east spur
    points: [
      [4.4, 1.0, 450],
      [4.9, 1.9, 300],
      [5.5, 2.6, 160],
    ],
    reachKm: 1.1,
  },
  {
    // its south spur, over a saddle to the southern hills
    points: [
      [4.2, 0.8, 480],
      [4.1, -0.2, 330],
      [4.4, -1.1, 215],
      [4.2, -2.0, 250],
      [3.5, -2.9, 345],
      [2.5, -3.3, 240],
      [1.4, -3.5, 180],
      [0.4, -3.5, 95],
    ],
    reachKm: 1.35,
  },
  {
    // the east end of the southern hills
    points: [
      [4.2, -2.1, 245],
      [5.2, -2.0, 200],
      [6.2, -1.7, 110],
    ],
    reachKm: 1.1,
  },
];

function crestHeightM({ points, reachKm }: Crest, eastKm: number, northKm: number): number {
  let highest = 0;
  for (let i = 1; i < points.length; i++) {
    const [x1, y1, h1] = points[i - 1] as CrestPoint;
    const [x2, y2, h2] = points[i] as CrestPoint;
    const { distance, along } = footOnSegment(eastKm, northKm, x1, y1, x2, y2);
    // worn round at the crest, steep below it, easing out to the foot
    const t = (Math.sqrt(distance * distance + 0.006) - 0.05) / reachKm;
    if (t >= 1) continue;
    const height = (h1 + along * (h2 - h1)) * (1 - t) * (1 - 0.35 * t);
    highest = Math.max(highest, height);
  }
  return highest;
}

/** The relief [m] before water and frost have worked on it, `inlandKm` from the shore. */
export function rawReliefM(point: MapPoint, inlandKm: number): number {
  const { eastKm, northKm } = point;
  // bend the crests a little, since no ridge runs in straight pieces
  const x = eastKm + 0.3 * layeredNoise(eastKm, northKm, 1.5, 4, 301);
  const y = northKm + 0.3 * layeredNoise(eastKm, northKm, 1.5, 4, 351);
  let hills = 0;
  for (const crest of CRESTS) hills = smoothMax(hills, crestHeightM(crest, x, y), 20);
  const inland = Math.max(0, inlandKm);
  const lowland = coastEdgeM(point) + 22 * inland;
  const shore = smoothStep(0, 0.5, inland);
  const base = smoothMax(lowland, hills * (0.55 + 0.45 * shore), 25);
  const rough = layeredNoise(eastKm, northKm, 1.4, 6, 401);
  return base + shore * (12 + 0.32 * base) * rough;
}

// The Slack: the breach that ice cut through the Rig. Where its floor crosses the crest, and which way it runs.
const SLACK = { eastKm: -3.45, northKm: 1.05, floorM: 235, halfFloorKm: 0.12, wallRisePerKm: 2200 };

/** Nothing of the Rig stands higher than this [m]: infinite away from the Slack, its floor and walls in it. */
export function slackCeilingM({ eastKm, northKm }: MapPoint): number {
  const alongKm = eastKm - SLACK.eastKm;
  if (alongKm < -1.2 || alongKm > 1.2) return Number.POSITIVE_INFINITY;
  // it runs a little north of west: midway between the line from the strand and that from the shore north of it
  const wander = 0.03 * layeredNoise(eastKm, northKm, 0.5, 2, 501);
  const acrossKm = northKm - SLACK.northKm + 0.09 * alongKm + wander;
  const offFloorKm = Math.max(0, Math.abs(acrossKm) - SLACK.halfFloorKm);
  return SLACK.floorM - 110 * Math.abs(alongKm) + SLACK.wallRisePerKm * offFloorKm;
}
