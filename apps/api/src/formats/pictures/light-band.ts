import { type SvgNode, svg } from "./svg";

/** Colours of the sky from night to day, by day and, where the viewer's system is dark, by night. */
export const LIGHT_BAND_STYLE = `
svg{--night:#2b3650;--astronomical:#43527a;--nautical:#6679a6;--civil:#9db2d3;--golden:#eec489;--day:#dbe8ee}
@media (prefers-color-scheme:dark){svg{--night:#0a1020;--astronomical:#182644;--nautical:#2a4170;--civil:#4a6a9f;--golden:#a8793a;--day:#86a5b3}}
.night{fill:var(--night)}.astronomical{fill:var(--astronomical)}.nautical{fill:var(--nautical)}.civil{fill:var(--civil)}
.golden{fill:var(--golden)}.day{fill:var(--day)}.frame{fill:none;stroke:var(--rule)}
.lit{fill:var(--sun)}.hidden{fill:none;stroke:var(--sun);stroke-width:1.2;stroke-dasharray:2 3}
`.replaceAll("\n", "");

interface Stretch {
  readonly start: string;
  readonly end: string;
}

/** What a band shows of the light of a day, or of days in a row. */
export interface ShownLight {
  readonly events: readonly { readonly name: string; readonly instant: string }[];
  readonly polar: "none" | "day" | "night";
  readonly windows: readonly (Stretch & { readonly kind: string })[];
  readonly directLight: { readonly intervals: readonly Stretch[] };
}

export interface LightBand {
  readonly light: ShownLight;
  /** What is shown [Unix ms], and where along the picture an instant lies [px]. */
  readonly fromMs: number;
  readonly toMs: number;
  readonly x: (instantMs: number) => number;
  readonly top: number;
  /** Of the band as a whole [px]. */
  readonly height: number;
  /** Said where the sun shines directly, and where terrain hides a sun that is up. */
  readonly spoken: { readonly direct: string; readonly hidden: string };
}

type Span = readonly [fromMs: number, toMs: number];

const SKY_SHARE = 0.6;
const TWILIGHTS = [
  ["astronomical-twilight", "astronomical"],
  ["nautical-twilight", "nautical"],
  ["civil-twilight", "civil"],
] as const;

/** The sky from night to day as a band of colours, and under it when the sun shines directly: solid, or dashed where it is up behind terrain. */
export function drawLightBand(band: LightBand): SvgNode[] {
  const { light, fromMs, toMs, x, top, height, spoken } = band;
  const skyHeight = height * SKY_SHARE;
  const footTop = top + skyHeight + 2;
  const shown = ([from, to]: Span): Span[] => {
    const cut: Span = [Math.max(from, fromMs), Math.min(to, toMs)];
    return cut[1] > cut[0] ? [cut] : [];
  };
  const sky = (name: string, spans: readonly Span[]): SvgNode[] =>
    spans
      .flatMap(shown)
      .map(([from, to]) => svg("rect", { class: name, x: x(from), y: top, width: x(to) - x(from), height: skyHeight }));
  const foot = (name: string, title: string, spans: readonly Span[]): SvgNode[] =>
    spans.flatMap(shown).map(([from, to]) => {
      const inset = name === "hidden" ? 0.6 : 0;
      const box = { x: x(from) + inset, y: footTop + inset, width: Math.max(1, x(to) - x(from) - 2 * inset) };
      return svg(
        "rect",
        { class: name, ...box, height: height - skyHeight - 2 - 2 * inset, rx: 2 },
        svg("title", {}, title),
      );
    });
  const windows = (kind: string): Span[] => light.windows.filter((window) => window.kind === kind).map(spanOf);
  const direct = light.directLight.intervals.map(spanOf);
  const up = sunUp(light, fromMs, toMs);
  return [
    ...sky("night", [[fromMs, toMs]]),
    ...TWILIGHTS.flatMap(([kind, name]) => sky(name, windows(kind))),
    ...sky("day", up),
    ...sky("golden", windows("golden-hour")),
    svg("rect", { class: "frame", x: x(fromMs), y: top, width: x(toMs) - x(fromMs), height: skyHeight }),
    ...foot("hidden", spoken.hidden, without(up, direct)),
    ...foot("lit", spoken.direct, direct),
  ];
}

function spanOf({ start, end }: Stretch): Span {
  return [Date.parse(start), Date.parse(end)];
}

/** While the sun is over the almanac's horizon. */
export function sunUp({ events, polar }: Pick<ShownLight, "events" | "polar">, fromMs: number, toMs: number): Span[] {
  if (polar === "night") return [];
  const spans: Span[] = [];
  const passes = events.filter(({ name }) => name === "sunrise" || name === "sunset");
  let since: number | null = passes[0]?.name === "sunset" || polar === "day" ? fromMs : null;
  for (const { name, instant } of passes) {
    const ms = Date.parse(instant);
    if (name === "sunrise") since = ms;
    else if (since !== null) {
      spans.push([since, ms]);
      since = null;
    }
  }
  if (since !== null) spans.push([since, toMs]);
  return spans;
}

const SHORTEST_GAP_MS = 60_000;

/** What is left of some spans once others are taken out; slivers under a minute are none. */
export function without(spans: readonly Span[], taken: readonly Span[]): Span[] {
  return taken
    .reduce<Span[]>(
      (rest, [from, to]) =>
        rest
          .flatMap(([a, b]): Span[] => [
            [a, Math.min(b, from)],
            [Math.max(a, to), b],
          ])
          .filter(([a, b]) => b > a),
      [...spans],
    )
    .filter(([a, b]) => b - a >= SHORTEST_GAP_MS);
}
