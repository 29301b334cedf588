/** Coefficients of the powers 0 to 3 of u. */
export type Cubic = Float64Array;

/** Sets `cubic` to the one that takes four values at u = 0, 1/3, 2/3 and 1. */
export function fitCubic(cubic: Cubic, y0: number, y1: number, y2: number, y3: number): void {
  // Newton's forward differences, with s = 3u
  const first = y1 - y0;
  const second = y2 - 2 * y1 + y0;
  const third = y3 - 3 * y2 + 3 * y1 - y0;
  cubic[0] = y0;
  cubic[1] = 3 * (first - second / 2 + third / 3);
  cubic[2] = 4.5 * (second - third);
  cubic[3] = 4.5 * third;
}

export function cubicAt(cubic: Cubic, u: number): number {
  return (cubic[0] as number) + u * ((cubic[1] as number) + u * ((cubic[2] as number) + u * (cubic[3] as number)));
}

export function cubicSlopeAt(cubic: Cubic, u: number): number {
  return (cubic[1] as number) + u * (2 * (cubic[2] as number) + u * 3 * (cubic[3] as number));
}

/** Where in (0, 1) a cubic turns, in order. */
export function turningPoints(cubic: Cubic): number[] {
  const a = 3 * (cubic[3] as number);
  const b = 2 * (cubic[2] as number);
  const c = cubic[1] as number;
  if (Math.abs(c) > Math.abs(a) + Math.abs(b)) return [];
  const discriminant = b * b - 4 * a * c;
  if (!(discriminant > 0)) return [];
  // the form that keeps its digits where a is small
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant)) / 2;
  return [q / a, c / q].filter((u) => u > 0 && u < 1).sort((one, other) => one - other);
}

/** Where a cubic that only rises or only falls from `u0` to `u1` takes a value between its values there. */
export function whereCubicIs(cubic: Cubic, value: number, u0: number, u1: number): number {
  const rising = cubicSlopeAt(cubic, (u0 + u1) / 2) > 0;
  let low = u0;
  let high = u1;
  let u = u0 + (value - cubicAt(cubic, u0)) / cubicSlopeAt(cubic, u0);
  for (let i = 0; i < 60; i++) {
    if (!(u > low && u < high)) u = (low + high) / 2;
    const over = cubicAt(cubic, u) - value;
    if (over > 0 === rising) high = u;
    else low = u;
    const step = over / cubicSlopeAt(cubic, u);
    if (Math.abs(step) < 1e-9 || high - low < 1e-12) return u;
    u -= step;
  }
  return u;
}
