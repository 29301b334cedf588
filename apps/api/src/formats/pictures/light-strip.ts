import { type LightWindows, localDay } from "@fieldstop/core";
import { scaleLinear } from "d3-scale";
import { clockTime } from "../messages/figures";
import type { Messages } from "../messages/messages";
import { placeName } from "../place-name";
import { fitText, type Label, type PlacedLabel, placeLabels } from "./labels";
import { drawLightBand, LIGHT_BAND_STYLE } from "./light-band";
import { timeTicks } from "./light-levels-axes";
import { PICTURE_STYLE } from "./style";
import { picture, type SvgNode, svg } from "./svg";
import { wrapText } from "./wrap-text";

const MOST_ROWS = 3;
const MOST_CARE_LINES = 6;
const STYLE = `${PICTURE_STYLE}${LIGHT_BAND_STYLE}.lead{stroke:var(--faint);stroke-width:1}.care{font-style:italic}`;

interface Edge extends Label {
  readonly strong: boolean;
}

/**
 * The light of a local day as one strip from midnight to midnight: the sky's darkness, and under it when the sun shines directly on the place, with the
 * times of both under their edges, and what to take care of.
 */
export function drawLightStrip(light: LightWindows, messages: Messages, width: number): string {
  const { words } = messages;
  const size = width >= 720 ? 14 : 12;
  const margin = size;
  const { startMs, endMs } = localDay(light.date, light.timeZone);
  const x = scaleLinear([startMs, endMs], [margin, width - margin]);
  const edges = edgesOf(light, messages, (instant) => x(Date.parse(instant)));
  const placed = placeLabels(edges, size, width - margin, MOST_ROWS, "over-earlier-rows");
  const rows = Math.max(1, ...placed.map(({ row }) => (row ?? -1) + 1));

  const top = size * 4.2;
  const band = size * 4.4;
  const labelsTop = top + band + size * 0.4;
  const foot = labelsTop + rows * size * 1.5 + size * 0.4;
  const title = words.lightOf(light.date, placeName(light.place));
  const summary = summaryOf(light, messages);
  const inner = width - 2 * margin;
  const care =
    light.cautions.length === 0
      ? ""
      : `${words.takeCare}: ${light.cautions.map(({ code }) => messages.caution[code]).join(" ")}`;
  const careLines = care === "" ? [] : wrapText(care, size * 0.85, inner, MOST_CARE_LINES);
  const careTop = foot + size * 2;
  const height = Math.round(careTop + careLines.length * size * 1.15 + size * (careLines.length === 0 ? 0.2 : 0.7));
  return picture(
    { width, height, title, description: `${summary}. ${words.timesOf(light.timeZone)}. ${care}`.trim(), style: STYLE },
    svg("rect", { class: "paper", width, height }),
    svg(
      "text",
      { class: "strong", x: margin, y: size * 1.6, "font-size": size * 1.15 },
      fitText(title, size * 1.3, inner),
    ),
    svg("text", { class: "faint", x: margin, y: size * 3.2, "font-size": size }, fitText(summary, size, inner)),
    ...drawLightBand({
      light,
      fromMs: startMs,
      toMs: endMs,
      x,
      top,
      height: band,
      spoken: { direct: words.directLight, hidden: words.sunBehindTerrain },
    }),
    ...drawEdges(edges, placed, [top + band, labelsTop, size]),
    svg("line", { class: "rule", x1: margin, x2: width - margin, y1: foot, y2: foot }),
    ...timeTicks(x, [startMs, endMs], light.timeZone, [foot, size * 0.9, width]),
    ...careLines.map((line, i) =>
      svg(
        "text",
        { class: "faint care", x: margin, y: careTop + (i + 1) * size * 1.15, "font-size": size * 0.85 },
        line,
      ),
    ),
  );
}

/** When direct light comes and goes, and where the almanac has sunrise and sunset apart from that. */
function edgesOf({ directLight, events }: LightWindows, { event }: Messages, x: (instant: string) => number): Edge[] {
  const direct = directLight.intervals.flatMap(({ start, end, startCause, endCause }) => [
    ...(startCause === "day-boundary" ? [] : [start]),
    ...(endCause === "day-boundary" ? [] : [end]),
  ]);
  const isTold = (instant: string): boolean =>
    direct.some((other) => Math.abs(Date.parse(other) - Date.parse(instant)) < 3 * 60_000);
  const ends = [direct.at(-1), direct[0], ...direct.slice(1, -1)].filter((instant) => instant !== undefined);
  const strong = [...new Set(ends)].map((instant) => ({ text: clockTime(instant), x: x(instant), strong: true }));
  const almanac = events.flatMap(({ name, instant }) =>
    (name === "sunrise" || name === "sunset") && !isTold(instant)
      ? [{ text: `${event[name]} ${clockTime(instant)}`, x: x(instant), strong: false }]
      : [],
  );
  return [...strong, ...almanac];
}

function drawEdges(
  edges: readonly Edge[],
  placed: readonly PlacedLabel[],
  [bandFoot, top, size]: readonly [number, number, number],
): SvgNode[] {
  return placed.flatMap(({ row, middle, text, x }, i) => {
    if (row === null) return [];
    const base = top + size * (1.1 + row * 1.5);
    const look = edges[i]?.strong ? "strong" : "faint";
    return [
      svg("line", { class: "lead", x1: x, x2: x, y1: bandFoot, y2: base - size * 0.95 }),
      svg("text", { class: look, x: middle, y: base, "font-size": size, "text-anchor": "middle" }, text),
    ];
  });
}

function summaryOf({ directLight, horizon }: LightWindows, { words }: Messages): string {
  const { intervals, minutesLostToTerrain } = directLight;
  if (intervals.length === 0) return words.noDirectLight;
  const allDay = intervals.length === 1 && [intervals[0]?.startCause, intervals[0]?.endCause].every(isDayBoundary);
  if (allDay) return words.directLightAllDay;
  const times = intervals.map(({ start, end }) => `${clockTime(start)}–${clockTime(end)}`);
  const shown = times.length > 3 ? [times[0], "…", times.at(-1)] : times;
  const lost = Math.round(minutesLostToTerrain);
  const cost = horizon.kind === "flat" || lost === 0 ? "" : `; ${words.terrainTakes(lost)}`;
  return `${words.directLight} ${shown.join(", ")}${cost}`;
}

const isDayBoundary = (cause: string | undefined): boolean => cause === "day-boundary";
