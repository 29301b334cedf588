import type { Measurement } from "./measure";

/** The errors as one measurement; an error that is no number is a fault of the measurement. */
export function summarise(errors: readonly number[]): Measurement {
  let squares = 0;
  let max = 0;
  for (const error of errors) {
    if (!Number.isFinite(error)) throw new Error(`an error that is no number: ${error}`);
    squares += error * error;
    max = Math.max(max, Math.abs(error));
  }
  return { rms: Math.sqrt(squares / Math.max(1, errors.length)), max, samples: errors.length };
}

/** Numbers in [0, 1) that are the same in every run (Park & Miller 1988, Communications of the ACM 31:1192). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** `count` places and instants, spread evenly over the globe and over the years [from, to). */
export function anywhere(
  seed: number,
  count: number,
  fromYear: number,
  toYear: number,
): { ms: number; latitude: number; longitude: number }[] {
  const random = seeded(seed);
  const startMs = Date.UTC(fromYear, 0, 1);
  const spanMs = Date.UTC(toYear, 0, 1) - startMs;
  return Array.from({ length: count }, () => ({
    ms: Math.floor(startMs + random() * spanMs),
    latitude: (Math.asin(2 * random() - 1) * 180) / Math.PI,
    longitude: 360 * random() - 180,
  }));
}
