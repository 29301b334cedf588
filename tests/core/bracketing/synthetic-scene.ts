import { type HistogramCoding, srgbFromLinear, type TakenFrame } from "@fieldstop/core/bracketing";

/** Pixels of a scene as levels in stops against clipping of a frame without bias. */
export type Scene = readonly number[];

/** Numbers in [0, 1) that are the same on every run (Park and Miller 1988, the minimal standard generator). */
export function repeatable(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** Levels spread evenly from the darkest to the brightest. */
export function evenScene(darkest: number, brightest: number, pixels = 20_000): Scene {
  return Array.from({ length: pixels }, (_, i) => darkest + ((brightest - darkest) * (i + 0.5)) / pixels);
}

/** A landscape: a dark foreground and a bright sky, each a heap, a patch at the darkest and one at the brightest level, and nothing in between. */
export function landscape(darkest: number, brightest: number, pixels = 20_000): Scene {
  const random = repeatable(7);
  const third = (brightest - darkest) / 3;
  return Array.from({ length: pixels }, (_, i) => {
    const heap = ((random() + random() + random()) / 3) * third;
    if (i % 100 === 0) return brightest;
    if (i % 50 === 1) return darkest;
    return i % 5 < 3 ? darkest + heap : brightest - heap;
  });
}

export interface SensorOptions {
  readonly coding?: HistogramCoding;
  readonly bins?: number;
  /** Noise against full scale, one standard deviation. */
  readonly noise?: number;
  /** Tone curve on the code, from 0 to 1. */
  readonly curve?: (code: number) => number;
}

/** What a sensor makes of a scene at a bias: grey pixels, so that the channels agree. */
export function takeFrame(scene: Scene, biasStops: number, options: SensorOptions = {}): TakenFrame {
  const counts = countsOf(scene, biasStops, options);
  return { biasStops, coding: options.coding ?? "srgb", histogram: { red: counts, green: counts, blue: counts } };
}

// The loop stands apart from the object: compiled together on Node 24.21, several frames at times came out with one bias
function countsOf(scene: Scene, biasStops: number, options: SensorOptions): number[] {
  const { coding = "srgb", bins = 256, noise = 0, curve = (code: number) => code } = options;
  const random = repeatable(1 + Math.round(1000 + biasStops * 30));
  const counts = new Array<number>(bins).fill(0);
  for (const level of scene) {
    const bell = noise === 0 ? 0 : random() + random() + random() + random() - 2;
    const light = Math.min(1, Math.max(0, 2 ** (level + biasStops) + noise * bell * Math.sqrt(3)));
    const code = curve(coding === "srgb" ? srgbFromLinear(light) : light);
    const bin = Math.round(code * (bins - 1));
    counts[bin] = (counts[bin] as number) + 1;
  }
  return counts;
}

export function takeSet(scene: Scene, biases: readonly number[], options?: SensorOptions): TakenFrame[] {
  return biases.map((bias) => takeFrame(scene, bias, options));
}
