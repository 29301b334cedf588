import type { OutingMoment } from "@fieldstop/sdk";
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit-html";
import { HEADROOM_STOPS, type Kit } from "../evening/kit";
import { type SceneSpan, sceneSpan } from "../evening/scene-span";
import { approachInWords, stops } from "../words/approach-words";

export interface LadderFrame {
  readonly label: string;
  readonly fromEv100: number;
  readonly toEv100: number;
}

const WIDTH = 360;
const NAMES_PX = 24;
const TONES_PX = 30;
const FRAME_PX = 22;
const GAP_PX = 5;

/** The contrast as stops side by side, dark to bright, and under them what each frame holds of it. */
export function stopsLadder(moment: OutingMoment, kit: Kit): TemplateResult {
  const span = sceneSpan(moment);
  const frames = framesOf(moment, kit);
  const least = Math.floor(
    Math.min(span.shadowEv100 - 0.5, ...frames.map(({ fromEv100 }) => Math.max(fromEv100, span.shadowEv100 - 2))),
  );
  const most = Math.ceil(
    Math.max(span.highlightEv100 + 0.5, ...frames.map(({ toEv100 }) => Math.min(toEv100, span.highlightEv100 + 2))),
  );
  const x = (ev100: number): number => ((Math.max(least, Math.min(most, ev100)) - least) / (most - least)) * WIDTH;
  const shift = moment.graduated === undefined ? 0 : 20;
  const tonesY = NAMES_PX;
  const framesY = tonesY + TONES_PX + 8 + shift;
  const height = framesY + frames.length * (FRAME_PX + GAP_PX);
  return html`<svg class="ladder" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label=${ladderInWords(moment, kit)}>
    ${names(span, x)}
    ${tones(least, most, tonesY)}
    <path class="span" d="M${x(span.shadowEv100)} ${tonesY - 3}v${TONES_PX + 6}M${x(span.highlightEv100)} ${tonesY - 3}v${TONES_PX + 6}"></path>
    ${moment.graduated === undefined ? nothing : darkening(span, moment.graduated.stops, x, tonesY + TONES_PX + 6)}
    ${frames.map((frame, i) => bar(frame, x, framesY + i * (FRAME_PX + GAP_PX), least, most))}
  </svg>`;
}

/** What each frame holds, the darkest exposure first. */
export function framesOf({ bracket, exposure }: Pick<OutingMoment, "bracket" | "exposure">, kit: Kit): LadderFrame[] {
  if (bracket !== undefined) {
    return bracket.frames.map(({ nominal, coversEv100: [fromEv100, toEv100] }) => ({
      label: nominal,
      fromEv100,
      toEv100,
    }));
  }
  const fromEv100 = exposure.ev100 - (kit.frameHoldsStops - HEADROOM_STOPS);
  return [{ label: exposure.shutter.nominal, fromEv100, toEv100: exposure.ev100 + HEADROOM_STOPS }];
}

/** The ladder in words, for those who do not see it. */
export function ladderInWords(moment: OutingMoment, kit: Kit): string {
  const { shadowEv100, highlightEv100, groundEv100, skyEv100 } = sceneSpan(moment);
  const over = skyEv100 - groundEv100;
  const frames = framesOf(moment, kit).map(({ label }) => label);
  return `The scene spans ${stops(highlightEv100 - shadowEv100)} from shade to bright sky; the sky is ${stops(Math.abs(over))} ${over >= 0 ? "brighter" : "darker"} than the ground. One frame holds ${stops(kit.frameHoldsStops)}. ${approachInWords(moment)}: ${frames.join(", ")}.`;
}

/** Deep shade, ground and sky over their stops, moved apart where they would touch. */
function names({ shadowEv100, groundEv100, skyEv100 }: SceneSpan, x: (ev100: number) => number): SVGTemplateResult[] {
  const found = [
    { name: "shade", ev100: shadowEv100, room: 74 },
    { name: "ground", ev100: groundEv100, room: 52 },
    { name: "sky", ev100: skyEv100, room: 26 },
  ].sort((a, b) => a.ev100 - b.ev100);
  let freeFrom = 0;
  const placed = found.map(({ name, ev100, room }) => {
    const left = Math.max(freeFrom, x(ev100) - room / 2);
    freeFrom = left + room + 6;
    return { name, ev100, left, room };
  });
  let freeTo = WIDTH;
  for (const one of [...placed].reverse()) {
    one.left = Math.min(one.left, freeTo - one.room);
    freeTo = one.left - 6;
  }
  return placed.map(
    ({
      name,
      ev100,
      left,
      room,
    }) => svg`<text x=${(left + room / 2).toFixed(1)} y="13" text-anchor="middle">${name}</text>
      <path class="tick" d="M${x(ev100).toFixed(1)} 17v7"></path>`,
  );
}

function tones(least: number, most: number, y: number): SVGTemplateResult[] {
  const count = most - least;
  const width = WIDTH / count;
  return Array.from({ length: count }, (_, i) => {
    const grey = Math.round(14 + (238 * i) / Math.max(1, count - 1));
    return svg`<rect x=${(i * width).toFixed(2)} y=${y} width=${(width - 1).toFixed(2)} height=${TONES_PX} fill="rgb(${grey},${grey},${grey})"></rect>`;
  });
}

/** What a graduated filter does: the sky moves down the ladder. */
function darkening(
  { skyEv100 }: SceneSpan,
  filterStops: number,
  x: (ev100: number) => number,
  y: number,
): SVGTemplateResult {
  const from = x(skyEv100);
  const to = x(skyEv100 - filterStops);
  const text = `graduated −${stops(filterStops)}`;
  const before = to > 130;
  return svg`<g class="darkening"><path d="M${from} ${y + 7}H${to}m6 -5l-6 5l6 5M${from} ${y + 2}v10"></path>
    <text x=${before ? to - 6 : from + 6} y=${y + 11} text-anchor=${before ? "end" : "start"}>${text}</text></g>`;
}

function bar(
  { label, fromEv100, toEv100 }: LadderFrame,
  x: (ev100: number) => number,
  y: number,
  least: number,
  most: number,
): SVGTemplateResult {
  const left = x(fromEv100);
  const right = x(toEv100);
  const width = Math.max(2, right - left);
  const middle = (left + right) / 2;
  const openLeft = fromEv100 < least;
  const openRight = toEv100 > most;
  const edges = `${openRight ? "" : `M${right - 1} ${y}v${FRAME_PX}`}${openLeft ? "" : `M${left + 1} ${y}v${FRAME_PX}`}`;
  return svg`<g class="frame"><rect x=${left} y=${y} width=${width} height=${FRAME_PX}></rect><path d=${edges}></path>
    <text x=${middle} y=${y + 15.5} text-anchor="middle">${label}</text></g>`;
}
