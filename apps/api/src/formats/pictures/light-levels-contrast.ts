import type { LevelRow } from "@fieldstop/core";
import { textWidth } from "./labels";
import { clockTime, signedStops } from "./light-levels-words";
import { type SvgNode, svg } from "./svg";

interface Plot {
  readonly x: (row: LevelRow) => number;
  readonly y: (ev100: number) => number;
  readonly right: number;
  readonly top: number;
  readonly size: number;
}

/** Spans of the plot's breadth that something stands in [px]. */
type Taken = readonly (readonly [number, number])[];

/** Brackets from the ground up to the sky with the contrast in stops, at a few rows that nothing else stands near. */
export function contrastBrackets(rows: readonly LevelRow[], count: number, taken: Taken, plot: Plot): SvgNode[] {
  const last = rows.length - 1;
  const used: [number, number][] = [];
  return Array.from({ length: count }, (_, i) => (i + 0.5) / count).flatMap((part) => {
    const wanted = Math.round(last * part);
    const reach = Math.floor(last / (count * 2));
    const order = Array.from({ length: reach * 2 + 1 }, (_, k) => wanted + (k % 2 === 0 ? 1 : -1) * Math.ceil(k / 2));
    const row = order
      .map((index) => rows[index])
      .find((candidate) => {
        if (candidate === undefined) return false;
        const [from, to] = spanOf(candidate, plot);
        return to <= plot.right && ![...taken, ...used].some(([a, b]) => to > a && from < b);
      });
    if (row === undefined) return [];
    used.push(spanOf(row, plot));
    return [bracket(row, plot)];
  });
}

const labelOf = ({ contrastStops }: LevelRow): string => signedStops(contrastStops);

function spanOf(row: LevelRow, { x, size }: Plot): [number, number] {
  return [x(row) - size * 0.5, x(row) + size * 1.1 + textWidth(labelOf(row), size * 1.1)];
}

function bracket(row: LevelRow, { x, y, top, size }: Plot): SvgNode {
  const { sky, litGround } = row.ev100;
  const at = x(row);
  const [above, below] = [y(Math.max(sky, litGround)), y(Math.min(sky, litGround))];
  const serif = size * 0.3;
  const across = (level: number): string => `M${(at - serif).toFixed(1)},${level.toFixed(1)}h${(2 * serif).toFixed(1)}`;
  const d = `${across(above)}M${at.toFixed(1)},${above.toFixed(1)}V${below.toFixed(1)}${across(below)}`;
  // where the curves are near each other the value stands over them, or under them where there is no room over them
  const inside = below - above > size * 1.5;
  const outside = above - top > size * 1.7 ? above - size * 0.7 : below + size * 1.4;
  const base = inside ? (above + below) / 2 + size * 0.35 : outside;
  return svg(
    "g",
    {},
    svg("title", {}, `${clockTime(row.instant)}: the sky ${labelOf(row)} stops over the ground`),
    svg("path", { class: "bracket", d }),
    svg("text", { class: "stops", x: at + size * 0.5, y: base, "font-size": size }, labelOf(row)),
  );
}
