import { textWidth } from "./labels";
import { type LightLevelsPicture, litRuns, moonlitRuns } from "./light-levels-words";
import { type SvgNode, svg } from "./svg";

const KEY = [
  ["sky", "of-sky"],
  ["lit ground", "of-lit"],
  ["open shade", "of-shade"],
  ["still water", "of-water"],
  ["contrast, stops", "gap"],
  ["direct sun", "beam"],
  ["direct moon", "moonbeam"],
  ["civil twilight", "dusk"],
] as const;
const BARS: ReadonlySet<string> = new Set(["beam", "moonbeam"]);
const AREAS: ReadonlySet<string> = new Set(["gap", "dusk"]);

/** The lines, bars and areas that the span has. */
export function keyOf({ rows, civilTwilight }: LightLevelsPicture) {
  const has: Readonly<Record<string, boolean>> = {
    beam: litRuns(rows).length > 0,
    moonbeam: moonlitRuns(rows).length > 0,
    dusk: civilTwilight.length > 0,
  };
  return KEY.filter(([, kind]) => has[kind] !== false);
}

/** What the lines mean, in as many rows as the width needs. */
export function placeKey(
  key: readonly (readonly [string, string])[],
  size: number,
  widthPx: number,
  top: number,
): { readonly nodes: SvgNode[]; readonly height: number } {
  const sample = size * 1.6;
  let x = size * 0.6;
  let row = 0;
  const nodes = key.flatMap(([name, kind]) => {
    const breadth = sample + size * 0.4 + textWidth(name, size);
    if (x + breadth > widthPx + size * 0.6) {
      x = size * 0.6;
      row++;
    }
    const middle = top + row * size * 1.5;
    const thick = BARS.has(kind) ? size * 0.4 : size * 0.9;
    const shown =
      BARS.has(kind) || AREAS.has(kind)
        ? svg("rect", {
            class: AREAS.has(kind) ? `${kind} swatch` : kind,
            x,
            y: middle - thick / 2,
            width: sample,
            height: thick,
          })
        : svg("line", { class: `curve ${kind}`, x1: x, x2: x + sample, y1: middle, y2: middle });
    const text = svg("text", { x: x + sample + size * 0.4, y: middle + size * 0.35, "font-size": size }, name);
    x += breadth + size * 1.2;
    return [shown, text];
  });
  return { nodes, height: (row + 1) * size * 1.5 };
}
