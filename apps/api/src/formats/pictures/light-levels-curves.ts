import type { LevelRow, SceneEv100 } from "@fieldstop/core";
import { area, line } from "d3-shape";
import { isGroundLit } from "./light-levels-words";
import { type SvgNode, svg } from "./svg";

/** Where a row and a level stand in the plot [px]. */
interface Plot {
  readonly x: (row: LevelRow) => number;
  readonly y: (ev100: number) => number;
}

export interface LevelCurves {
  /** Between sky and ground. */
  readonly gap: SvgNode;
  readonly stillWater: SvgNode;
  readonly openShade: SvgNode;
  /** One for each stretch of lit ground. */
  readonly litGround: readonly SvgNode[];
  readonly sky: SvgNode;
}

/** Draw the curves of a picture of light. */
export function levelCurves(rows: readonly LevelRow[], { x, y }: Plot): LevelCurves {
  const curve = (kind: string, part: keyof SceneEv100, of = rows): SvgNode => {
    const d = line<LevelRow>(x, ({ ev100 }) => y(ev100[part])).digits(2)(of) as string;
    return svg("path", { class: `curve ${kind}`, d });
  };
  const gap = area<LevelRow>(
    x,
    ({ ev100 }) => y(ev100.litGround),
    ({ ev100 }) => y(ev100.sky),
  ).digits(1)(rows) as string;
  const stillWater = curve("of-water", "stillWater");
  const openShade = curve("of-shade", "openShade");
  const litGround = litStretches(rows).map((stretch) => curve("of-lit", "litGround", stretch));
  return { gap: svg("path", { class: "gap", d: gap }), stillWater, openShade, litGround, sky: curve("of-sky", "sky") };
}

/** Runs of rows whose ground is brighter for the beam, each with the row on either side, where it meets the shade. */
function litStretches(rows: readonly LevelRow[]): LevelRow[][] {
  const isLit = (row: LevelRow | undefined): boolean => row !== undefined && isGroundLit(row);
  const stretches: LevelRow[][] = [];
  rows.forEach((row, i) => {
    if (!isLit(row) && !isLit(rows[i - 1]) && !isLit(rows[i + 1])) return;
    if (isLit(rows[i - 1]) || (isLit(row) && i > 0)) stretches.at(-1)?.push(row);
    else stretches.push([row]);
  });
  return stretches;
}
