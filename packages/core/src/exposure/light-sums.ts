import { type LightCurve, pieceAt, pieceLight, requireOpenWithin, slopeOf } from "./light-curve";

/**
 * The light of a curve, summed up beforehand for whoever asks for many parts of it: each takes as many steps as the logarithm of its samples, in place of
 * one for each sample.
 *
 * Source and accuracy: as `lightGathered`. Sums are only added, never taken from one another: what little the dark end gives would be lost in the light
 * that went before it. Held against `lightGathered` in tests/core/exposure/light-sums.spec.ts.
 * @example
 * const dusk = new LightSums(lightCurveFromSamples([{ instantMs: 0, ev100: 3 }, { instantMs: 600_000, ev100: 3 }]));
 * dusk.gathered(60_000, 30); // 240
 */
export class LightSums {
  readonly curve: LightCurve;
  readonly #pieces: number;
  /** A binary tree: the light of each whole piece in the second half, and at half its place the sum of each two [s at EV100 0]. */
  readonly #tree: Float64Array;

  constructor(curve: LightCurve) {
    const pieces = curve.instantsMs.length - 1;
    const tree = new Float64Array(2 * pieces);
    for (let i = 0; i < pieces; i++) tree[pieces + i] = lightOfPiece(curve, i, secondsFrom(curve, i, i + 1));
    for (let i = pieces - 1; i > 0; i--) tree[i] = (tree[2 * i] as number) + (tree[2 * i + 1] as number);
    this.curve = curve;
    this.#pieces = pieces;
    this.#tree = tree;
  }

  /**
   * What `lightGathered` of the curve gives.
   * @param fromMs when the shutter opens [Unix ms], within the curve
   * @param seconds how long it stays open [s], 0 or more, no longer than the light is known
   * @returns [s at EV100 0]
   * @throws DomainError outside the curve
   */
  gathered(fromMs: number, seconds: number): number {
    const { curve } = this;
    requireOpenWithin(curve, fromMs, seconds);
    const first = pieceAt(curve, fromMs);
    const slope = slopeOf(curve, first);
    const level = (curve.ev100[first] as number) + slope * ((fromMs - (curve.instantsMs[first] as number)) / 1000);
    const next = first + 1;
    const untilNext = ((curve.instantsMs[next] as number) - fromMs) / 1000;
    if (seconds <= untilNext || next === this.#pieces) return pieceLight(level, slope, Math.min(seconds, untilNext));

    // counted in seconds from the next sample: Unix milliseconds would cost short exposures their digits
    const after = seconds - untilNext;
    let last = Math.max(next, pieceAt(curve, (curve.instantsMs[next] as number) + after * 1000));
    while (secondsFrom(curve, next, last) > after) last--;
    while (last < this.#pieces - 1 && secondsFrom(curve, next, last + 1) < after) last++;
    const open = Math.min(after - secondsFrom(curve, next, last), secondsFrom(curve, last, last + 1));
    return pieceLight(level, slope, untilNext) + this.#sum(next, last) + lightOfPiece(curve, last, open);
  }

  /** Of whole pieces, the last left out. */
  #sum(from: number, to: number): number {
    let sum = 0;
    for (let a = from + this.#pieces, b = to + this.#pieces; a < b; a >>= 1, b >>= 1) {
      if (a & 1) sum += this.#tree[a++] as number;
      if (b & 1) sum += this.#tree[--b] as number;
    }
    return sum;
  }
}

/** From its beginning on, for so long [s]. */
function lightOfPiece(curve: LightCurve, piece: number, seconds: number): number {
  return pieceLight(curve.ev100[piece] as number, slopeOf(curve, piece), seconds);
}

/** From one sample to another [s]. */
function secondsFrom({ instantsMs }: LightCurve, from: number, to: number): number {
  return ((instantsMs[to] as number) - (instantsMs[from] as number)) / 1000;
}
