import type { LevelRow } from "@fieldstop/core";
import { scaleLinear } from "d3-scale";
import { fitText, joinWhileFits, placeLabels, textWidth } from "./labels";
import { evRules, timeTicks } from "./light-levels-axes";
import { contrastBrackets } from "./light-levels-contrast";
import { levelCurves } from "./light-levels-curves";
import { keyOf, placeKey } from "./light-levels-key";
import {
  clockTime,
  describeLevels,
  type LightLevelsPicture,
  litRuns,
  moonlitRuns,
  sentence,
  spoken,
  summaryOf,
  titleOf,
  uncertaintyOf,
} from "./light-levels-words";
import { PICTURE_STYLE } from "./style";
import { picture, type SvgNode, svg } from "./svg";

const STYLE = `${PICTURE_STYLE}.curve{fill:none;stroke-linejoin:round;stroke-linecap:round}.of-sky{stroke:var(--moon);stroke-width:3}.of-lit{stroke:var(--sun);stroke-width:3}.of-shade{stroke:var(--edge);stroke-width:2}.of-water{stroke:var(--faint);stroke-width:1.2;stroke-dasharray:5 3}.gap{fill:var(--veil);fill-opacity:.2}.dusk{fill:var(--moon);fill-opacity:.16}.beam{fill:var(--sun)}.moonbeam{fill:var(--moon)}.moment{stroke:var(--mark);stroke-width:1}.when{fill:var(--mark);font-weight:600;paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}.swatch{stroke:var(--faint);stroke-width:.8}.bracket{fill:none;stroke:var(--ink);stroke-width:1.2}.stops{font-weight:600;paint-order:stroke;stroke:var(--sky);stroke-width:4px;stroke-linejoin:round}`;

/** Rows of names over the plot, for the sun's moments. */
const MOST_ROWS = 3;

/**
 * The light over a span: how bright sky, lit ground, open shade and still water are [EV100] against local time, the contrast between sky and ground as
 * the shaded part between their curves, and along the foot when the sun shines on the place.
 */
export function drawLightLevels(content: LightLevelsPicture): string {
  const { rows, width, moments, civilTwilight, timeZone, place } = content;
  const wide = width >= 720;
  const size = wide ? 14 : 12;
  const left = size * 2.4;
  const right = width - size * 1.4;
  const inner = width - size * 1.2;
  const [startMs, endMs] = [timeOf(rows[0] as LevelRow), timeOf(rows.at(-1) as LevelRow)];
  const x = scaleLinear([startMs, endMs], [left, right]);
  const summary = wide ? [joinWhileFits(summaryOf(content), size, inner)] : summaryOf(content).map(sentence);
  const keyTop = size * (2.8 + 1.5 * summary.length);
  const key = placeKey(keyOf(content), size, inner, keyTop);
  const labels = placeLabels(
    moments.map(({ name, instant }) => ({ text: `${spoken(name)} ${clockTime(instant)}`, x: x(Date.parse(instant)) })),
    size,
    width - size * 0.5,
    MOST_ROWS,
    "over-later-rows",
  );
  const firstLabel = keyTop + key.height + size * 0.7;
  const top = firstLabel + Math.max(0, ...labels.map(({ row }) => (row ?? -1) + 1)) * size * 1.5 - size * 0.7;
  const bottom = top + (wide ? 300 : 220);
  const foot = bottom + size * 0.9;
  const height = Math.round(foot + size * 3.5);

  const seen = rows.flatMap(({ ev100: { sky, litGround, openShade, stillWater } }) => [
    sky,
    litGround,
    openShade,
    stillWater,
  ]);
  const range = [Math.min(...seen) - 0.7, Math.max(...seen) + 0.9] as const;
  const y = scaleLinear(range, [bottom, top]);
  const across = new Map(rows.map((row) => [row, x(timeOf(row))]));
  const along = (row: LevelRow): number => across.get(row) as number;
  const curves = levelCurves(rows, { x: along, y });
  const leads = moments.map(({ instant }) => x(Date.parse(instant)));

  const day = ` · ${(rows[0] as LevelRow).instant.slice(0, 10)}`;
  const where = place.name ?? `${place.latitude.toFixed(3)}°, ${place.longitude.toFixed(3)}°`;
  // bold text at 1.15 of the size is a quarter wider
  const heading = `${fitText(where, size * 1.3, inner - textWidth(day, size * 1.3))}${day}`;
  const note = joinWhileFits([`EV100 ± ${uncertaintyOf(content)}`, `times of ${timeZone}`], size * 0.9, inner);
  return picture(
    { width, height, title: titleOf(content), description: describeLevels(content), style: STYLE },
    svg("rect", { class: "paper", width, height }),
    svg("text", { class: "strong", x: size * 0.6, y: size * 1.5, "font-size": size * 1.15 }, heading),
    ...summary.map((phrase, i) =>
      svg(
        "text",
        { class: "faint", x: size * 0.6, y: size * (3 + 1.5 * i), "font-size": size },
        fitText(phrase, size, inner),
      ),
    ),
    ...key.nodes,
    svg("rect", { class: "sky", x: left, y: top, width: right - left, height: bottom - top }),
    ...civilTwilight.map(([from, to]) =>
      svg("rect", { class: "dusk", x: x(from), y: top, width: x(to) - x(from), height: bottom - top }),
    ),
    ...evRules(y, range, left, right, size),
    curves.gap,
    ...leads.map((at, i) => {
      const row = labels[i]?.row ?? null;
      const from = row === null ? top : firstLabel + row * size * 1.5 + size * 0.3;
      return svg("line", { class: "moment", x1: at, x2: at, y1: from, y2: foot });
    }),
    curves.stillWater,
    curves.openShade,
    ...curves.litGround,
    curves.sky,
    ...beams(rows, along, bottom + size * 0.25, size),
    svg("line", { class: "rule", x1: left, x2: right, y1: foot, y2: foot }),
    ...timeTicks(x, [startMs, endMs], timeZone, [foot, size, width]),
    ...labels.flatMap(({ text, middle, row }) =>
      row === null
        ? []
        : [
            svg(
              "text",
              {
                class: "when",
                x: middle,
                y: firstLabel + row * size * 1.5,
                "font-size": size,
                "text-anchor": "middle",
              },
              text,
            ),
          ],
    ),
    ...contrastBrackets(
      rows,
      wide ? 3 : 2,
      leads.map((at) => [at - 2, at + 2] as const),
      { x: along, y, right, top, size },
    ),
    svg("text", { class: "faint", x: size * 0.6, y: foot + size * 2.9, "font-size": size * 0.9 }, note),
  );
}

const timeOf = ({ instant }: LevelRow): number => Date.parse(instant);

/** A bar for each run of direct light, and of moonlight that the ground shows, at least so wide that it is seen. */
function beams(rows: readonly LevelRow[], along: (row: LevelRow) => number, y: number, size: number): SvgNode[] {
  const bars = (kind: string, name: string, runs: ReturnType<typeof litRuns>): SvgNode[] =>
    runs.map(([first, last]) =>
      svg(
        "rect",
        { class: kind, x: along(first), y, width: Math.max(2, along(last) - along(first)), height: size * 0.4 },
        svg("title", {}, `${name} from ${clockTime(first.instant)} to ${clockTime(last.instant)}`),
      ),
    );
  return [...bars("moonbeam", "Moonlight", moonlitRuns(rows)), ...bars("beam", "Direct light", litRuns(rows))];
}
