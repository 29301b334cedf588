import type { OutingMoment } from "@fieldstop/sdk";
import { html, type SVGTemplateResult, svg, type TemplateResult } from "lit-html";
import { type Ridge, ridgeAltitudeDeg } from "../evening/ridge";
import type { SunStep } from "../evening/sun-path";
import { frameCount } from "../words/approach-words";
import { clockOf, msOf } from "../words/place-time";

export interface Clearance {
  readonly path: readonly SunStep[];
  readonly ridge: Ridge;
  /** What each of some instants asks for, as far as it is reckoned. */
  readonly course: readonly OutingMoment[];
  readonly minutes: number;
  readonly widthPx: number;
}

const SUN_PX = 120;
const FRAMES_PX = 48;
const CLOCK_PX = 22;
const TOP_DEG = 12;
const BOTTOM_DEG = -5;

/** The sun over the ridge, or under it, along the session; and below it how many frames each time asks for. */
export function clearancePicture({ path, ridge, course, minutes, widthPx }: Clearance): TemplateResult {
  const first = path[0];
  const last = path.at(-1);
  if (first === undefined || last === undefined) return html``;
  const width = Math.max(300, Math.round(widthPx));
  const startMs = msOf(first.instant);
  const spanMs = msOf(last.instant) - startMs;
  const x = (instant: string): number => ((msOf(instant) - startMs) / spanMs) * width;
  const y = (clearanceDeg: number): number =>
    ((TOP_DEG - Math.max(BOTTOM_DEG, Math.min(TOP_DEG, clearanceDeg))) / (TOP_DEG - BOTTOM_DEG)) * SUN_PX;
  const level = y(0);
  const points = path.map((step) => ({
    x: x(step.instant),
    y: y(step.altitudeDeg - Math.max(-0.3, ridgeAltitudeDeg(ridge, step.azimuthDeg))),
  }));
  const line = points.map((point) => `${point.x.toFixed(1)} ${point.y.toFixed(1)}`).join("L");
  const now = ((minutes * 60_000) / spanMs) * width;
  return html`<svg class="clearance" viewBox="0 0 ${width} ${SUN_PX + FRAMES_PX + CLOCK_PX}" aria-hidden="true">
    <defs>
      <clipPath id="over"><rect width=${width} height=${level}></rect></clipPath>
      <clipPath id="under"><rect y=${level} width=${width} height=${SUN_PX - level}></rect></clipPath>
    </defs>
    <rect class="ground" y=${level} width=${width} height=${SUN_PX - level}></rect>
    <path class="over" clip-path="url(#over)" d="M0 ${level}L${line}L${width} ${level}Z"></path>
    <path class="under" clip-path="url(#under)" d="M${line}"></path>
    <path class="edge" clip-path="url(#over)" d="M${line}"></path>
    <text class="on-ground" x=${first.altitudeDeg > last.altitudeDeg ? 6 : width - 6} y=${level + 17} text-anchor=${first.altitudeDeg > last.altitudeDeg ? "start" : "end"}>the ridge</text>
    ${course.map((moment) => framesAt(moment, x(moment.instant), width / course.length))}
    ${clocks(path, x, width)}
    <path class="now" d="M${now.toFixed(1)} 0V${SUN_PX + FRAMES_PX}"></path>
  </svg>`;
}

/** A pile of frames, as many as the moment asks for; the lowest half dark where a graduated filter is on. */
function framesAt(moment: OutingMoment, x: number, roomPx: number): SVGTemplateResult {
  const count = frameCount(moment);
  const width = Math.min(18, roomPx * 0.62);
  const graduated = moment.approach.kind.startsWith("graduated");
  const floor = SUN_PX + FRAMES_PX - 4;
  return svg`${Array.from({ length: count }, (_, i) => svg`<rect class=${graduated ? "pile graduated" : "pile"} x=${(x - width / 2).toFixed(1)} y=${(floor - 6 - i * 5.6).toFixed(1)} width=${width.toFixed(1)} height="4.4"></rect>`)}`;
}

function clocks(path: readonly SunStep[], x: (instant: string) => number, width: number): SVGTemplateResult[] {
  return path
    .filter(({ instant }) => clockOf(instant).endsWith(":00"))
    .map(({ instant }) => {
      const at = x(instant);
      if (at < 18 || at > width - 18) return svg``;
      return svg`<path class="tick" d="M${at.toFixed(1)} ${SUN_PX + FRAMES_PX}v5"></path><text x=${at.toFixed(1)} y=${SUN_PX + FRAMES_PX + CLOCK_PX - 3} text-anchor="middle">${clockOf(instant)}</text>`;
    });
}
