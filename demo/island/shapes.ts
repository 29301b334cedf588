/** 0 below `from`, 1 above `to`, a smooth S between. `from` may be the larger one: then the S falls. */
export function smoothStep(from: number, to: number, x: number): number {
  const raw = (x - from) / (to - from);
  const t = raw < 0 ? 0 : raw > 1 ? 1 : raw;
  return t * t * (3 - 2 * t);
}

/** The larger of two heights, rounded off over a width `blend` where they are close. */
export function smoothMax(a: number, b: number, blend: number): number {
  const gap = a - b;
  return (a + b + Math.sqrt(gap * gap + blend * blend)) / 2;
}

export interface SegmentFoot {
  /** Distance from the point to the nearest point of the segment. */
  readonly distance: number;
  /** Where along the segment that point is, 0 to 1. */
  readonly along: number;
}

export function footOnSegment(x: number, y: number, x1: number, y1: number, x2: number, y2: number): SegmentFoot {
  const dx = x2 - x1;
  const dy = y2 - y1;
  const raw = ((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy);
  const along = raw < 0 ? 0 : raw > 1 ? 1 : raw;
  const ex = x - (x1 + along * dx);
  const ey = y - (y1 + along * dy);
  return { distance: Math.sqrt(ex * ex + ey * ey), along };
}
