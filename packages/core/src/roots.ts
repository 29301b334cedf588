/** A smooth function of one variable: here mostly degrees against milliseconds. */
export type Curve = (x: number) => number;

export interface Crossing {
  readonly x: number;
  readonly direction: "rising" | "falling";
}

/**
 * The zero of `curve` in [a, b], whose ends must have opposite signs (or be zero), to within `tolerance` in x.
 * The Illinois form of false position (Dowell and Jarratt 1971, BIT 11:168): it keeps the bracket, needs no slope,
 * and falls back to halving when it makes no headway. The values at both ends may be handed in where they are known.
 */
export function findRoot(
  curve: Curve,
  a: number,
  b: number,
  tolerance: number,
  atA: number = curve(a),
  atB: number = curve(b),
): number {
  let x0 = a;
  let x1 = b;
  let y0 = atA;
  let y1 = atB;
  // as they are, where the method halves them
  let true0 = y0;
  let true1 = y1;
  if (y0 === 0) return x0;
  if (y1 === 0) return x1;
  let side = 0;
  for (let i = 0; i < 100 && x1 - x0 > tolerance; i++) {
    let x = i % 8 === 7 ? (x0 + x1) / 2 : (x0 * y1 - x1 * y0) / (y1 - y0);
    // land a hair beyond the estimate, so that both ends of the bracket close in
    const nudge = tolerance / 3;
    if (x - x0 < nudge) x = x0 + nudge;
    else if (x1 - x < nudge) x = x1 - nudge;
    const y = curve(x);
    if (y === 0) return x;
    if (y > 0 === y1 > 0) {
      x1 = x;
      y1 = y;
      true1 = y;
      if (side === 1) y0 /= 2;
      side = 1;
    } else {
      x0 = x;
      y0 = y;
      true0 = y;
      if (side === -1) y1 /= 2;
      side = -1;
    }
  }
  // so near, the curve is straight: whichever bracket the last bits led to, they all point to the same place
  return (x0 * true1 - x1 * true0) / (true1 - true0);
}

/**
 * The one zero of `curve` in [a, b] to within `tolerance` in x, from a guess and the slope there. Where the slope leads nowhere, {@link findRoot} does.
 */
export function polishRoot(
  curve: Curve,
  guess: number,
  slope: number,
  a: number,
  b: number,
  tolerance: number,
  atA?: number,
  atB?: number,
): number {
  let x = guess;
  for (let i = 0; i < 3; i++) {
    const step = curve(x) / slope;
    x -= step;
    if (!(x >= a && x <= b)) break;
    if (Math.abs(step) <= tolerance) return x;
  }
  return findRoot(curve, a, b, tolerance, atA, atB);
}

// The smaller part of a stretch in the golden section
const GOLDEN_PART = (3 - Math.sqrt(5)) / 2;

/**
 * Where `curve` is largest in [a, b], to within `tolerance` in x; the curve must have one peak there.
 * Brent's method (Brent 1973, Algorithms for Minimization without Derivatives, ch. 5): it goes to the top of the parabola through the three best
 * points, and where that makes no headway it cuts by the golden section. A smooth peak takes a third of the steps of the golden section alone.
 */
export function findPeak(curve: Curve, a: number, b: number, tolerance: number): number {
  let low = a;
  let high = b;
  // the best point, the second best, and the one that was second best before it
  let best = low + GOLDEN_PART * (high - low);
  let second = best;
  let third = best;
  let yBest = curve(best);
  let ySecond = yBest;
  let yThird = yBest;
  let step = 0;
  let stepBefore = 0;
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (Math.max(best - low, high - best) <= tolerance) break;
    const jump = jumpToVertex(second - best, ySecond - yBest, third - best, yThird - yBest);
    const landing = best + jump;
    if (Math.abs(jump) < Math.abs(stepBefore) / 2 && landing > low && landing < high) {
      stepBefore = step;
      step =
        landing - low < tolerance / 2 || high - landing < tolerance / 2
          ? Math.sign(middle - best) * (tolerance / 3)
          : jump;
    } else {
      stepBefore = best < middle ? high - best : low - best;
      step = GOLDEN_PART * stepBefore;
    }
    const x = best + noShorterThan(tolerance / 3, step);
    const y = curve(x);
    if (y >= yBest) {
      if (x < best) high = best;
      else low = best;
      third = second;
      yThird = ySecond;
      second = best;
      ySecond = yBest;
      best = x;
      yBest = y;
    } else {
      if (x < best) low = x;
      else high = x;
      if (y >= ySecond || second === best) {
        third = second;
        yThird = ySecond;
        second = x;
        ySecond = y;
      } else if (y >= yThird || third === best || third === second) {
        third = x;
        yThird = y;
      }
    }
  }
  return best;
}

/** How far it is to the vertex of the parabola through the origin and two other points; NaN where the three are in line. */
function jumpToVertex(x1: number, y1: number, x2: number, y2: number): number {
  const r = x1 * y2;
  const s = x2 * y1;
  const q = 2 * (r - s);
  return q === 0 ? Number.NaN : (x1 * r - x2 * s) / q;
}

/** A step at least so long, to the same side: a shorter one would not tell which side the peak is on. */
function noShorterThan(least: number, step: number): number {
  if (Math.abs(step) >= least) return step;
  return step < 0 ? -least : least;
}

/**
 * Every crossing of zero in [start, end], in order. The curve is sampled each `step`; between samples it may bend once,
 * and a bend that just touches zero between two samples (a grazing sun) is found by looking for the extremum there.
 */
export function findCrossings(curve: Curve, start: number, end: number, step: number, tolerance: number): Crossing[] {
  const count = Math.max(2, Math.ceil((end - start) / step));
  const width = (end - start) / count;
  const xs: number[] = [];
  const ys: number[] = [];
  for (let i = 0; i <= count; i++) {
    const x = i === count ? end : start + i * width;
    xs.push(x);
    ys.push(curve(x));
  }
  const crossings: Crossing[] = [];
  const take = (a: number, b: number, ya: number, yb: number): void => {
    crossings.push({ x: findRoot(curve, a, b, tolerance, ya, yb), direction: yb > 0 ? "rising" : "falling" });
  };
  for (let i = 1; i <= count; i++) {
    const xa = xs[i - 1] as number;
    const xb = xs[i] as number;
    const ya = ys[i - 1] as number;
    const yb = ys[i] as number;
    if (ya > 0 !== yb > 0) {
      take(xa, xb, ya, yb);
      continue;
    }
    const sign = ya > 0 ? -1 : 1;
    if (!mayTouchZero(sign * (ys[i - 2] ?? ya), sign * ya, sign * yb, sign * (ys[i + 1] ?? yb))) continue;
    const peak = findPeak((x) => sign * curve(x), xa, xb, tolerance);
    const yp = curve(peak);
    if (yp > 0 !== ya > 0) {
      take(xa, peak, ya, yp);
      take(peak, xb, yp, yb);
    }
  }
  return crossings;
}

/** Whether a hump that peaks between the two middle samples could reach up to zero from below. */
function mayTouchZero(before: number, left: number, right: number, after: number): boolean {
  const risesIn = left >= before || right >= left;
  const fallsOut = right >= after || left >= right;
  if (!(risesIn && fallsOut)) return false;
  // the hump is no higher than the outer slopes continued to where they meet
  const reach = Math.max(Math.abs(left - before), Math.abs(right - after), Math.abs(right - left));
  return Math.max(left, right) + reach >= 0;
}
