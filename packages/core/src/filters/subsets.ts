/**
 * Every way to take up to `most` of `count` things, each as ascending positions: none, then each alone, then pairs and so on.
 * There are about count^most of them, so the caller bounds both.
 */
export function subsetsUpTo(count: number, most: number): number[][] {
  const all: number[][] = [[]];
  let previous: number[][] = [[]];
  for (let size = 1; size <= Math.min(most, count); size++) {
    const next: number[][] = [];
    for (const subset of previous) {
      for (let i = (subset.at(-1) ?? -1) + 1; i < count; i++) next.push([...subset, i]);
    }
    all.push(...next);
    previous = next;
  }
  return all;
}
