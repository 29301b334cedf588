import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit-html";
import type { Evening } from "../evening/evening";
import { type Ridge, ridgeAltitudeDeg } from "../evening/ridge";
import type { SunStep } from "../evening/sun-path";
import { bearingLetters, roundCompass, turnDeg } from "../words/bearing";
import { decisiveInterval, lightSentence } from "../words/light-words";
import { clockOf } from "../words/place-time";
import { landRuns } from "./land";
import { AXIS_PX, HEADER_PX, type RidgeWindow, ridgeWindow } from "./ridge-window";

export interface RidgePicture {
  readonly evening: Evening;
  readonly ridge: Ridge;
  readonly path: readonly SunStep[];
  /** Horizontal field of the lens [deg]. */
  readonly fieldDeg: number;
  readonly lens: string;
  /** As wide as it will be shown [px]. */
  readonly widthPx: number;
}

/** The ridge against the sun's way: the sun each ten minutes, filled while it shines here and hollow behind the land, and where it goes. */
export function ridgePicture(request: RidgePicture): TemplateResult {
  const { evening, ridge, path } = request;
  const centre = edgeAzimuthDeg(request);
  const highest = Math.max(
    ...ridge.azimuthsDeg.map((azimuth, i) =>
      Math.abs(turnDeg(centre, azimuth)) < 66 ? (ridge.altitudesDeg[i] ?? 0) : 0,
    ),
  );
  const window = ridgeWindow(centre, highest, request.widthPx);
  const { widthPx, heightPx } = window;
  const floor = window.y(window.bottomDeg);
  return html`<svg class="ridge-picture" viewBox="0 0 ${widthPx} ${heightPx.toFixed(0)}" role="img" aria-label=${ridgeInWords(request)}>
    <rect class="sky" width=${widthPx} height=${floor}></rect>
    <rect class="sea" width=${widthPx} y=${window.y(0)} height=${floor - window.y(0)}></rect>
    ${sunSteps(path, window, true, pinAzimuthDeg(evening))}
    ${land(ridge, window, floor)}
    ${sunSteps(path, window, false, null)}
    ${leaving(evening, ridge, path, window)}
    ${cameraFrame(request, window)}
    ${axis(evening, window, floor)}
  </svg>`;
}

/** Where on the compass the picture is centred: where the sun sets or rises, or the last it is reckoned for. */
function edgeAzimuthDeg({ evening, path }: RidgePicture): number {
  const { light, spot } = evening;
  const edge = light.events.find(({ name }) => name === (spot.part === "evening" ? "sunset" : "sunrise"));
  return edge?.azimuthDeg ?? path[path.length >> 1]?.azimuthDeg ?? spot.cameraAzimuthDeg;
}

function land(ridge: Ridge, window: RidgeWindow, floor: number): SVGTemplateResult[] {
  return landRuns(ridge, window.fromDeg, window.widthDeg).map(({ depth, points }) => {
    const line = points.map(
      ({ azimuthDeg, altitudeDeg }) => `${(window.x(azimuthDeg)).toFixed(1)} ${window.y(altitudeDeg).toFixed(1)}`,
    );
    const first = points[0];
    const last = points.at(-1);
    if (first === undefined || last === undefined) return svg``;
    const d = `M${window.x(first.azimuthDeg).toFixed(1)} ${floor}L${line.join("L")}L${window.x(last.azimuthDeg).toFixed(1)} ${floor}Z`;
    return svg`<path class="land ${depth}" d=${d}></path>`;
  });
}

/** Room that an hour's label takes beside the pin [px]. */
const PIN_ROOM_PX = 56;

/**
 * Each step of the sun; those that shine lie under the land's edge, those that it hides are drawn over it. Hours are written on the
 * open side of the sun's way, and not where the pin stands.
 */
function sunSteps(
  path: readonly SunStep[],
  window: RidgeWindow,
  shining: boolean,
  pinDeg: number | null,
): SVGTemplateResult[] {
  const pin = pinDeg === null ? Number.NaN : window.x(pinDeg);
  const sinking = (path.at(-1)?.altitudeDeg ?? 0) < (path[0]?.altitudeDeg ?? 0);
  const onward = sinking ? 1 : -1;
  return path
    .filter((step) => step.shining === shining && step.altitudeDeg < window.topDeg - 0.4 && step.altitudeDeg > -0.9)
    .map(({ instant, azimuthDeg, altitudeDeg }) => {
      const x = window.x(azimuthDeg);
      const y = window.y(altitudeDeg);
      if (x < 4 || x > window.widthPx - 4) return svg``;
      const hour = clockOf(instant).endsWith(":00");
      const dot = svg`<circle class=${shining ? "sun" : "sun hidden"} cx=${x.toFixed(1)} cy=${y.toFixed(1)} r=${hour ? 7 : 4.5}></circle>`;
      if (!hour || !shining || y < HEADER_PX + 22 || Math.abs(x - pin) < PIN_ROOM_PX) return dot;
      return svg`${dot}<text class="hour" x=${x + 9 * onward} y=${y - 7} text-anchor=${sinking ? "start" : "end"}>${clockOf(instant)}</text>`;
    });
}

/** Where the sun goes behind the land, or comes from it [deg]; null where it does neither. */
function pinAzimuthDeg({ light, spot }: Evening): number | null {
  const interval = decisiveInterval(light, spot.part);
  if (interval === undefined || lightSentence(light, spot.part).clock === null) return null;
  return spot.part === "evening" ? interval.endAzimuthDeg : interval.startAzimuthDeg;
}

/** The pin at which the sun goes behind the land, or comes from it. */
function leaving(
  evening: Evening,
  ridge: Ridge,
  path: readonly SunStep[],
  window: RidgeWindow,
): SVGTemplateResult | typeof nothing {
  const { light, spot } = evening;
  const azimuthDeg = pinAzimuthDeg(evening);
  if (azimuthDeg === null) return nothing;
  const { clock } = lightSentence(light, spot.part);
  const x = window.x(azimuthDeg);
  const y = window.y(Math.max(0, ridgeAltitudeDeg(ridge, azimuthDeg)));
  const onward = turnDeg(path[0]?.azimuthDeg ?? azimuthDeg - 1, azimuthDeg) >= 0 === (spot.part === "evening") ? 1 : -1;
  const tall = Math.min(46, y - HEADER_PX - 18);
  const anchor = onward > 0 ? "start" : "end";
  return svg`<g class="pin">
    <path d="M${x} ${y}v${-tall}h${10 * onward}"></path>
    <circle cx=${x} cy=${y} r="5.5"></circle>
    <text x=${x + 15 * onward} y=${y - tall + 7} text-anchor=${anchor}>${clock}</text>
  </g>`;
}

/** What the lens takes in of the compass. */
function cameraFrame({ evening, fieldDeg, lens }: RidgePicture, window: RidgeWindow): SVGTemplateResult {
  const { cameraAzimuthDeg } = evening.spot;
  const middle = window.x(cameraAzimuthDeg);
  const half = (fieldDeg / 2 / window.widthDeg) * window.widthPx;
  const from = Math.max(1, middle - half);
  const to = Math.min(window.widthPx - 1, middle + half);
  const label = `${lens} toward ${Math.round(cameraAzimuthDeg)}°`;
  const y = HEADER_PX - 8;
  if (to - from < 90) {
    const right = middle > window.widthPx / 2;
    return svg`<text class="frame-label" x=${right ? window.widthPx - 4 : 4} y=${y} text-anchor=${right ? "end" : "start"}>${right ? `${label} →` : `← ${label}`}</text>`;
  }
  const leftTick = middle - half >= 0 ? `M${from} ${y + 16}V${y}` : `M${from} ${y}`;
  const rightTick = middle + half <= window.widthPx ? `V${y + 16}` : "";
  const text = (from + to) / 2;
  const width = label.length * 7.4;
  return svg`<g class="frame-mark">
    <path d="${leftTick}H${text - width / 2 - 6}M${text + width / 2 + 6} ${y}H${to}${rightTick}"></path>
    <text class="frame-label" x=${text} y=${y + 5} text-anchor="middle">${label}</text>
  </g>`;
}

function axis({ light, spot }: Evening, window: RidgeWindow, floor: number): SVGTemplateResult {
  const event = light.events.find(({ name }) => name === (spot.part === "evening" ? "sunset" : "sunrise"));
  const ticks: SVGTemplateResult[] = [];
  for (let deg = Math.ceil(window.fromDeg / 5) * 5; deg <= window.fromDeg + window.widthDeg; deg += 5) {
    const x = ((deg - window.fromDeg) / window.widthDeg) * window.widthPx;
    const named = deg % 45 === 0;
    const numbered = deg % 15 === 0 && x > 20 && x < window.widthPx - 20;
    ticks.push(svg`<path class="tick" d="M${x.toFixed(1)} ${floor}v${numbered ? 8 : 4}"></path>
      ${numbered ? svg`<text class=${named ? "axis strong" : "axis"} x=${x.toFixed(1)} y=${floor + AXIS_PX - 6} text-anchor="middle">${named ? bearingLetters(deg) : `${roundCompass(deg)}°`}</text>` : nothing}`);
  }
  if (event === undefined) return svg`${ticks}`;
  const x = window.x(event.azimuthDeg);
  const name = spot.part === "evening" ? "sunset" : "sunrise";
  const nearRight = x > window.widthPx - 190;
  return svg`${ticks}<g class="almanac"><path d="M${x} ${floor - 1}l-5 9h10z"></path>
    <text x=${x + (nearRight ? -9 : 9)} y=${floor + 18} text-anchor=${nearRight ? "end" : "start"}>almanac’s ${name} ${clockOf(event.instant)}</text></g>`;
}

/** The picture in words, for those who do not see it. */
export function ridgeInWords({ evening, ridge, path }: RidgePicture): string {
  const { light, spot } = evening;
  const { clock, what, why } = lightSentence(light, spot.part);
  const interval = decisiveInterval(light, spot.part);
  const azimuthDeg = spot.part === "evening" ? interval?.endAzimuthDeg : interval?.startAzimuthDeg;
  const where =
    azimuthDeg === undefined
      ? ""
      : ` There, at ${Math.round(azimuthDeg)}°, the skyline stands ${Math.max(0, ridgeAltitudeDeg(ridge, azimuthDeg)).toFixed(1)}° high.`;
  const hours = path.filter(({ instant }) => clockOf(instant).endsWith(":00"));
  const way = hours.map(
    ({ instant, altitudeDeg, azimuthDeg: az }) =>
      `at ${clockOf(instant)} ${altitudeDeg.toFixed(0)}° high in ${Math.round(az)}°`,
  );
  return `The skyline of ${spot.name} with the sun’s way. ${clock === null ? "" : `${clock}: `}${what}. ${why}${where}${way.length === 0 ? "" : ` The sun stands ${way.join(", ")}.`}`;
}
