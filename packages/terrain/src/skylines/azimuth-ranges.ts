/**
 * Runs of neighbouring azimuths as [from, to] clockwise; a run that passes north is one, with `from` above `to`; the whole compass is
 * [0, 360].
 *
 * @param azimuthsDeg all azimuths, ascending [deg]
 * @param indices those in question, ascending
 */
export function azimuthRanges(azimuthsDeg: readonly number[], indices: readonly number[]): [number, number][] {
  if (indices.length === 0) return [];
  if (indices.length === azimuthsDeg.length) return [[0, 360]];
  const runs: [number, number][] = [];
  for (const index of indices) {
    const run = runs[runs.length - 1];
    if (run !== undefined && run[1] === index - 1) run[1] = index;
    else runs.push([index, index]);
  }
  const first = runs[0] as [number, number];
  const last = runs[runs.length - 1] as [number, number];
  if (runs.length > 1 && first[0] === 0 && last[1] === azimuthsDeg.length - 1) {
    runs.pop();
    runs.shift();
    runs.push([last[0], first[1]]);
  }
  return runs.map(([from, to]) => [azimuthsDeg[from] as number, azimuthsDeg[to] as number]);
}
