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

/** As many of the phrases as fit into a line, from the first on, with a point between them. */
export function joinWhileFits(phrases: readonly string[], sizePx: number, widthPx: number): string {
  let joined = "";
  for (const phrase of phrases) {
    const longer = joined === "" ? phrase : `${joined} · ${phrase}`;
    if (textWidth(longer, sizePx) > widthPx) break;
    joined = longer;
  }
  return joined;
}

/** Where the leads run that tie labels to their places: from each label on over all later rows, or over all earlier ones. */
export type Leads = "over-later-rows" | "over-earlier-rows";

/**
 * Puts labels into rows so that none covers another, nor the lead of another: in the order given, each into the first row with room, or the other way
 * round where only that finds room for all.
 * @param leads default: none of the rows are crossed
 */
export function placeLabels(
  labels: readonly Label[],
  sizePx: number,
  widthPx: number,
  rows: number,
  leads?: Leads,
): PlacedLabel[] {
  const placed = placeInOrder(labels, sizePx, widthPx, rows, leads);
  if (placed.every(({ row }) => row !== null)) return placed;
  const backwards = placeInOrder([...labels].reverse(), sizePx, widthPx, rows, leads).reverse();
  return backwards.every(({ row }) => row !== null) ? backwards : placed;
}

function placeInOrder(
  labels: readonly Label[],
  sizePx: number,
  widthPx: number,
  rows: number,
  leads: Leads | undefined,
): PlacedLabel[] {
  const taken: { readonly from: number; readonly to: number; readonly row: number; readonly lead: number }[] = [];
  const gap = sizePx * 0.6;
  const beside = sizePx * 0.3;
  /** Whether the lead of a label in one row runs over another row. */
  const crosses = (leadRow: number, row: number): boolean =>
    leads !== undefined && (leads === "over-later-rows" ? row > leadRow : row < leadRow);
  const isFree = (from: number, to: number, row: number, lead: number): boolean =>
    taken.every((other) => {
      if (other.row === row) return to + gap <= other.from || from - gap >= other.to;
      if (crosses(other.row, row) && other.lead > from - beside && other.lead < to + beside) return false;
      return !(crosses(row, other.row) && lead > other.from - beside && lead < other.to + beside);
    });
  return labels.map((label) => {
    const half = textWidth(label.text, sizePx) / 2;
    const inside = (x: number): number => Math.min(widthPx - half, Math.max(half, x));
    // over its place, with its end there, or beside it, where that finds room in an earlier row
    const away = half + beside;
    const middles = [0, half - sizePx, sizePx - half, away, -away].map((shift) => inside(label.x + shift));
    for (let row = 0; row < rows; row++) {
      for (const middle of middles) {
        const from = middle - half;
        const to = middle + half;
        if (!isFree(from, to, row, label.x)) continue;
        taken.push({ from, to, row, lead: label.x });
        return { ...label, middle, row };
      }
    }
    return { ...label, middle: inside(label.x), row: null };
  });
}
