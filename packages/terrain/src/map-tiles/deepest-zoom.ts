/**
 * What there is at the deepest of some zooms that has anything, found by halving: wherever there is a tile, there is the coarser one
 * that holds it. Null where none of the zooms has anything.
 *
 * @param look what there is at a zoom; null where there is nothing
 * @param guess where it may well be; otherwise the finest is looked at first
 */
export async function deepestZoom<T>(
  coarsest: number,
  finest: number,
  look: (zoom: number) => Promise<T | null>,
  guess: number = finest,
): Promise<{ readonly zoom: number; readonly found: T } | null> {
  let best: { readonly zoom: number; readonly found: T } | null = null;
  let low = coarsest;
  let high = finest;
  const lookAt = async (zoom: number): Promise<void> => {
    const found = await look(zoom);
    if (found === null) high = zoom - 1;
    else {
      best = { zoom, found };
      low = zoom + 1;
    }
  };
  await lookAt(Math.max(coarsest, Math.min(finest, guess + 1)));
  // the guess itself, where it was right
  if (low <= guess && guess <= high) await lookAt(guess);
  while (low <= high) await lookAt(Math.ceil((low + high) / 2));
  return best;
}
