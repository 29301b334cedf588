/** As many are below it as above; of an even number the greater of the two in the middle. NaN where there are none. */
export function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}
