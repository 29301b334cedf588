import type { TideExtreme } from "./tide";

/**
 * Pick high and low water in turn: of neighbours of one kind only the highest high or the lowest low stays, since what stood between them was a
 * ripple too small to count as a tide of its own.
 * @param extremes in order of time
 * @example alternatingExtremes([low 0.2 m, low 0.5 m, high 1.1 m]) // low 0.2 m, high 1.1 m
 */
export function alternatingExtremes(extremes: readonly TideExtreme[]): TideExtreme[] {
  const kept: TideExtreme[] = [];
  for (const extreme of extremes) {
    const last = kept.at(-1);
    if (last?.kind !== extreme.kind) kept.push(extreme);
    else if (extreme.heightM > last.heightM === (extreme.kind === "high")) kept[kept.length - 1] = extreme;
  }
  return kept;
}
