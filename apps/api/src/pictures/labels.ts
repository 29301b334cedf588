export interface Label {
  readonly text: string;
  /** Where its middle would like to be [px]. */
  readonly x: number;
}

export interface PlacedLabel extends Label {
  /** Counted from the top; null where no row has room. */
  readonly row: number | null;
  /** Where its middle is [px], moved in from the ends. */
  readonly middle: number;
}

/** About how wide a line of text is [px]: wide scripts take a full square, the others a little over a half. */
export function textWidth(text: string, sizePx: number): number {
  let squares = 0;
  for (const character of text) squares += (character.codePointAt(0) as number) > 0x2e7f ? 1 : 0.57;
  return squares * sizePx;
}

/** A line cut to a width, with an ellipsis where something is missing. */
export function fitText(text: string, sizePx: number, widthPx: number): string {
  if (textWidth(text, sizePx) <= widthPx) return text;
  const characters = [...text];
  while (characters.length > 0 && textWidth(`${characters.join("")}…`, sizePx) > widthPx) characters.pop();
  return `${characters.join("").trimEnd()}…`;
}

/** Puts labels into rows so that none covers another; in the order given, each into the first row with room. */
export function placeLabels(labels: readonly Label[], sizePx: number, widthPx: number, rows: number): PlacedLabel[] {
  const taken: { from: number; to: number }[][] = Array.from({ length: rows }, () => []);
  const gap = sizePx * 0.6;
  return labels.map((label) => {
    const half = textWidth(label.text, sizePx) / 2;
    const middle = Math.min(widthPx - half, Math.max(half, label.x));
    const from = middle - half - gap;
    const to = middle + half + gap;
    const row = taken.findIndex((spans) => spans.every((span) => to <= span.from || from >= span.to));
    if (row < 0) return { ...label, middle, row: null };
    taken[row]?.push({ from: middle - half, to: middle + half });
    return { ...label, middle, row };
  });
}
