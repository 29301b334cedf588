import type { MomentName } from "@fieldstop/core";
import { scaleLinear } from "d3-scale";
import { weatherLine } from "../forecast-rows";
import { clockTime } from "../messages/figures";
import type { Messages } from "../messages/messages";
import { placeName } from "../place-name";
import type { Told } from "../told";
import { fitText, placeLabels } from "./labels";
import { drawLightBand, LIGHT_BAND_STYLE, type ShownLight } from "./light-band";
import { timeTicks } from "./light-levels-axes";
import { PICTURE_STYLE } from "./style";
import { picture, type SvgNode, svg } from "./svg";
import { wrapText } from "./wrap-text";

const AROUND_MS = 20 * 60_000;
const STYLE = `${PICTURE_STYLE}${LIGHT_BAND_STYLE}.mark{stroke:var(--mark);stroke-width:1.5}.moment{fill:var(--mark)}.care{font-style:italic}`;
/** What is worth a line on a card, the weightiest first. */
const SHOWN = ["verdict", "sky-outlook", "sky-not-known", "contrast", "tide", "lens-fog", "moon", "be-there"] as const;
/** The moments that are marked on the strip, the weightiest first: it is named first where room is short. */
const MARKED = [
  "last-direct-light",
  "first-direct-light",
  "lowest-sun",
  "highest-sun",
  "sunset",
  "sunrise",
  "blue-hour",
] as const satisfies readonly MomentName[];

/** What the card's strip of light shows of the time [Unix ms]. */
export function cardSpan({ arriveBy, stayUntil }: Pick<Told, "arriveBy" | "stayUntil">): readonly [number, number] {
  return [Date.parse(arriveBy) - AROUND_MS, Date.parse(stayUntil) + AROUND_MS];
}

/**
 * A forecast as a card: the headline, the session as a strip of light with its moments, the lines, and what to take care of.
 * @param light over the whole of {@link cardSpan}
 */
export function drawForecastCard(told: Told, light: ShownLight, messages: Messages, width: number): string {
  const { words } = messages;
  const size = width >= 720 ? 14 : 12;
  const margin = size * 1.2;
  const inner = width - 2 * margin;
  const title = words.title(told.session, told.date, placeName(told.place));
  const headline = wrapText(told.headline, size * 1.45, inner, 4);
  const strip = sessionStrip(told, light, messages, {
    size,
    margin,
    width,
    top: size * (3.2 + headline.length * 1.85),
  });
  const lines = linesOf(told, size, inner - size);
  const care = wrapText(careOf(told, messages), size * 0.85, inner, 12);
  const weather = weatherLine(told, messages);
  const credit = weather === null ? [] : wrapText(weather, size * 0.85, inner, 3);

  const nodes: SvgNode[] = [];
  let y = strip.foot + size * 0.6;
  for (const wrapped of lines) {
    y += size * 0.35;
    nodes.push(svg("circle", { class: "moment", cx: margin + size * 0.2, cy: y + size * 0.95, r: size * 0.16 }));
    for (const line of wrapped) {
      y += size * 1.3;
      nodes.push(svg("text", { x: margin + size, y, "font-size": size }, line));
    }
  }
  y += size * 0.9;
  nodes.push(svg("line", { class: "rule", x1: margin, x2: width - margin, y1: y, y2: y }));
  y += size * 0.4;
  for (const [look, texts] of [
    ["faint care", care],
    ["faint", credit],
  ] as const) {
    for (const text of texts) {
      y += size * 1.15;
      nodes.push(svg("text", { class: look, x: margin, y, "font-size": size * 0.85 }, text));
    }
  }
  const height = Math.round(y + size);
  const description = [told.headline, ...told.summary.map(({ text }) => text), careOf(told, messages), weather ?? ""];
  return picture(
    { width, height, title, description: description.join(" ").trim(), style: STYLE },
    svg("rect", { class: "paper", width, height }),
    svg("text", { class: "faint", x: margin, y: size * 1.9, "font-size": size }, fitText(title, size, inner)),
    ...headline.map((line, i) =>
      svg("text", { class: "strong", x: margin, y: size * (4.1 + i * 1.85), "font-size": size * 1.35 }, line),
    ),
    ...strip.nodes,
    ...nodes,
  );
}

interface Layout {
  readonly size: number;
  readonly margin: number;
  readonly width: number;
  readonly top: number;
}

/** The session's part of the day: the light from before the first moment until after the last, and the moments over it. */
function sessionStrip(
  told: Told,
  light: ShownLight,
  { words, shortMoment }: Messages,
  { size, margin, width, top }: Layout,
) {
  const [fromMs, toMs] = cardSpan(told);
  const x = scaleLinear([fromMs, toMs], [margin, width - margin]);
  const labels = MARKED.flatMap((wanted) =>
    told.moments
      .filter(({ name }) => name === wanted)
      .map(({ instant }) => ({ text: `${shortMoment[wanted]} ${clockTime(instant)}`, x: x(Date.parse(instant)) })),
  );
  const placed = placeLabels(labels, size, width - margin * 0.5, 3, "over-later-rows");
  const rows = Math.max(1, ...placed.map(({ row }) => (row ?? -1) + 1));
  const bandTop = top + size * (0.5 + rows * 1.4);
  const band = size * 3.4;
  const foot = bandTop + band + size * 0.5;
  return {
    foot: foot + size * 1.8,
    nodes: [
      ...drawLightBand({
        light,
        fromMs,
        toMs,
        x,
        top: bandTop,
        height: band,
        spoken: { direct: words.directLight, hidden: words.sunBehindTerrain },
      }),
      ...placed.flatMap(({ row, middle, text, x: at }) => {
        if (row === null) return [];
        const base = top + size * (1.2 + row * 1.4);
        return [
          svg("line", { class: "mark", x1: at, x2: at, y1: base + size * 0.25, y2: bandTop + band }),
          svg("text", { class: "strong", x: middle, y: base, "font-size": size, "text-anchor": "middle" }, text),
        ];
      }),
      ...timeTicks(x, [fromMs, toMs], told.timeZone, [foot, size * 0.9, width]),
    ],
  };
}

function linesOf({ summary }: Told, size: number, widthPx: number): string[][] {
  return SHOWN.flatMap((code) => {
    const text = summary.find((line) => line.code === code)?.text;
    return text === undefined ? [] : [wrapText(text, size, widthPx, 4)];
  });
}

function careOf({ cautions }: Told, { words, caution }: Messages): string {
  return `${words.takeCare}: ${cautions.map(({ code }) => caution[code]).join(" ")}`;
}
