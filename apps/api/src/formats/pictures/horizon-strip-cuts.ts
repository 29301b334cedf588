import { type Cut, labelOf } from "./horizon-strip-words";
import { type PlacedLabel, placeLabels } from "./labels";
import { type SvgNode, svg } from "./svg";

const MOST_ROWS = 4;

/** The labels of the cuts, in rows over the strip. Where they are too many, the day's first and last are named first. */
export function placeCutLabels(
  cuts: readonly Cut[],
  along: (deg: number) => number,
  size: number,
  width: number,
): PlacedLabel[] {
  const order = cuts.map((_, i) => i).sort((a, b) => fromTheEnds(a, cuts.length) - fromTheEnds(b, cuts.length));
  const labels = order.map((i) => ({ text: labelOf(cuts[i] as Cut), x: along((cuts[i] as Cut).azimuthDeg) }));
  const placed = placeLabels(labels, size, width - size * 0.5, MOST_ROWS, "over-later-rows");
  return cuts.map((_, i) => placed[order.indexOf(i)] as PlacedLabel);
}

const fromTheEnds = (index: number, count: number): number => Math.min(index, count - 1 - index);

/** A mark at each cut, and from it a lead to its label. Labels come last, so that no lead crosses them out. */
export function drawCuts(
  cuts: readonly Cut[],
  labels: readonly PlacedLabel[],
  along: (deg: number) => number,
  skylineY: (azimuthDeg: number) => number,
  size: number,
): SvgNode[] {
  const baseOf = (row: number): number => size * 4.7 + row * size * 1.5;
  const leads: SvgNode[] = [];
  const marks: SvgNode[] = [];
  const texts: SvgNode[] = [];
  cuts.forEach(({ instant, azimuthDeg, comes }, i) => {
    const x = along(azimuthDeg);
    const y = skylineY(azimuthDeg);
    const spoken = `${comes ? "The sun comes out" : "The sun goes"} at ${instant}, azimuth ${azimuthDeg.toFixed(1)}°`;
    marks.push(svg("circle", { class: "cut", cx: x, cy: y, r: size * 0.36 }, svg("title", {}, spoken)));
    const { row, middle, text } = labels[i] as PlacedLabel;
    if (row === null) return;
    const base = baseOf(row);
    leads.push(svg("line", { class: "lead", x1: x, y1: base + size * 0.35, x2: x, y2: y - size * 0.4 }));
    texts.push(svg("text", { class: "when", x: middle, y: base, "font-size": size, "text-anchor": "middle" }, text));
  });
  return [...leads, ...marks, ...texts];
}
