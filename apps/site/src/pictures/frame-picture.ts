import type { ProjectedSkyline } from "@fieldstop/sdk";
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit-html";
import type { Ridge } from "../evening/ridge";
import type { SunStep } from "../evening/sun-path";
import { type FrameGeometry, frameGeometry } from "../frame/frame-geometry";
import type { ReckonedFrame } from "../frame/reckon-frame";
import { bearingLetters, roundCompass } from "../words/bearing";
import { clockOf } from "../words/place-time";
import { type Ground, groundAt } from "./land";

// Broader than a person, so that its edge is seen at all: our own choice
const STONE_M = 0.7;

/** The frame as the camera sees it: land by its distance, the sun's way and disc, a stone in front, and the edge of a graduated filter. */
export function framePicture(
  reckoned: ReckonedFrame,
  path: readonly SunStep[],
  ridge: Ridge,
  longPx: number,
): TemplateResult {
  const { seen, moment } = reckoned;
  const { camera } = seen;
  const scale = longPx / Math.max(camera.widthMm, camera.heightMm);
  const width = Math.round(camera.widthMm * scale);
  const height = Math.round(camera.heightMm * scale);
  const geometry = frameGeometry(camera);
  const graduated = moment.graduated !== undefined && seen.line !== null;
  return html`<svg class="frame-picture" viewBox="0 0 ${width} ${height}" aria-hidden="true">
    <defs>
      <linearGradient id="filter-shade" x1="0" y1="0" x2="0" y2="1"><stop offset="0.55" class="grad-dark"></stop><stop offset="1" class="grad-clear"></stop></linearGradient>
    </defs>
    <rect class="sky" width=${width} height=${height}></rect>
    ${way(path, geometry, width, height, true)}
    ${disc("moon", seen.moon, width, height)}
    ${disc("sun", seen.sun, width, height)}
    ${land(seen, ridge, width, height)}
    ${way(path, geometry, width, height, false)}
    ${stone(reckoned, geometry, width, height)}
    ${graduated ? filterEdge(seen, width, height) : nothing}
    ${bearings(seen, geometry, width, height)}
  </svg>`;
}

/** The skyline from edge to edge: columns that are all sky or all land run along the border. */
function edgePoints({ points, skyPercent }: ProjectedSkyline): { x: number; y: number; azimuthDeg: number | null }[] {
  const first = points[0];
  const last = points.at(-1);
  const border = (y: number): number => (y > 0.5 ? 1 : 0);
  if (first === undefined || last === undefined) {
    const y = skyPercent > 50 ? 1 : 0;
    return [
      { x: 0, y, azimuthDeg: null },
      { x: 1, y, azimuthDeg: null },
    ];
  }
  return [
    ...(first.x > 0.003
      ? [
          { x: 0, y: border(first.y), azimuthDeg: first.azimuthDeg },
          { x: first.x, y: border(first.y), azimuthDeg: first.azimuthDeg },
        ]
      : []),
    ...points,
    ...(last.x < 0.997
      ? [
          { x: last.x, y: border(last.y), azimuthDeg: last.azimuthDeg },
          { x: 1, y: border(last.y), azimuthDeg: last.azimuthDeg },
        ]
      : []),
  ];
}

function land(seen: ProjectedSkyline, ridge: Ridge, width: number, height: number): SVGTemplateResult[] {
  const runs: { depth: Ground; line: string[]; from: number; to: number }[] = [];
  for (const { x, y, azimuthDeg } of edgePoints(seen)) {
    const depth = azimuthDeg === null ? "middle" : groundAt(ridge, azimuthDeg);
    const at = `${(x * width).toFixed(1)} ${(y * height).toFixed(1)}`;
    const run = runs.at(-1);
    run?.line.push(at);
    if (run !== undefined) run.to = x * width;
    if (run?.depth !== depth) runs.push({ depth, line: [at], from: x * width, to: x * width });
  }
  return runs.map(
    ({ depth, line, from, to }) =>
      svg`<path class="land ${depth}" d="M${from.toFixed(1)} ${height}L${line.join("L")}L${to.toFixed(1)} ${height}Z"></path>`,
  );
}

function way(
  path: readonly SunStep[],
  { toFrame }: FrameGeometry,
  width: number,
  height: number,
  shining: boolean,
): SVGTemplateResult[] {
  return path
    .filter((step) => step.shining === shining && step.altitudeDeg > -1)
    .map(({ azimuthDeg, altitudeDeg, instant }) => {
      const at = toFrame(azimuthDeg, altitudeDeg);
      if (at === null || at.x < 0 || at.x > 1 || at.y < 0 || at.y > 1) return svg``;
      const clock = clockOf(instant);
      const x = at.x * width;
      const y = at.y * height;
      const named = /:[03]0$/.test(clock);
      return svg`<circle class=${shining ? "way" : "way hidden"} cx=${x.toFixed(1)} cy=${y.toFixed(1)} r=${named ? 3.6 : 2}></circle>
        ${named && shining && x > 50 ? svg`<text class="way-clock" x=${(x - 8).toFixed(1)} y=${(y + 5).toFixed(1)} text-anchor="end">${clock}</text>` : nothing}`;
    });
}

type Body = ProjectedSkyline["sun"] | ProjectedSkyline["moon"];

/** The disc to scale with a ring that finds it; the land is drawn over what it hides. */
function disc(
  kind: "sun" | "moon",
  { x, y, inFrame, aboveSkyline, discDiameterPercent }: Body,
  width: number,
  height: number,
): SVGTemplateResult | typeof nothing {
  if (!inFrame || x === null || y === null || discDiameterPercent === null) return nothing;
  const radius = (discDiameterPercent / 200) * height;
  const ring = aboveSkyline
    ? svg`<circle class="${kind}-ring" cx=${x * width} cy=${y * height} r=${radius + 10}></circle>`
    : nothing;
  return svg`<circle class="${kind}-disc" cx=${x * width} cy=${y * height} r=${radius}></circle>${ring}`;
}

/** The stone, its foot on the ground that the tripod stands on. */
function stone(
  { state }: ReckonedFrame,
  { toFrame }: FrameGeometry,
  width: number,
  height: number,
): SVGTemplateResult | typeof nothing {
  const { foreground, tripodM } = state;
  if (foreground === null) return nothing;
  const { distanceM, topM, azimuthDeg } = foreground;
  const altitude = (heightM: number): number => (Math.atan2(heightM - tripodM, distanceM) * 180) / Math.PI;
  const half = (Math.atan2(STONE_M / 2, distanceM) * 180) / Math.PI;
  const corners = [
    toFrame(azimuthDeg - half, altitude(0)),
    toFrame(azimuthDeg - half * 0.82, altitude(topM * 0.72)),
    toFrame(azimuthDeg - half * 0.3, altitude(topM)),
    toFrame(azimuthDeg + half * 0.42, altitude(topM * 0.985)),
    toFrame(azimuthDeg + half * 0.9, altitude(topM * 0.8)),
    toFrame(azimuthDeg + half, altitude(0)),
  ];
  if (corners.some((corner) => corner === null)) return nothing;
  const line = corners.map(
    (corner) => `${((corner?.x ?? 0) * width).toFixed(1)} ${((corner?.y ?? 0) * height).toFixed(1)}`,
  );
  return svg`<path class="stone" d="M${line.join("L")}Z"></path>`;
}

function filterEdge({ line }: ProjectedSkyline, width: number, height: number): SVGTemplateResult | typeof nothing {
  if (line === null) return nothing;
  const left = line.yLeft * height;
  const right = line.yRight * height;
  return svg`<path class="graduated" fill="url(#filter-shade)" d="M0 0V${left}L${width} ${right}V0Z"></path>
    <path class="filter-edge" d="M0 ${left}L${width} ${right}"></path>`;
}

/** Bearings along the bottom edge. */
function bearings(
  { camera }: ProjectedSkyline,
  { toFrame, fieldDeg }: FrameGeometry,
  width: number,
  height: number,
): SVGTemplateResult[] {
  const step = fieldDeg > 45 ? 15 : fieldDeg > 25 ? 5 : fieldDeg > 8 ? 2 : 1;
  const marks: SVGTemplateResult[] = [];
  for (
    let deg = Math.ceil((camera.azimuthDeg - fieldDeg / 2) / step) * step;
    deg <= camera.azimuthDeg + fieldDeg / 2;
    deg += step
  ) {
    const at = toFrame(deg, camera.pitchDeg);
    if (at === null || at.x < 0.05 || at.x > 0.95) continue;
    const round = roundCompass(deg);
    const text = round % 45 === 0 ? bearingLetters(round) : `${round}°`;
    marks.push(
      svg`<path class="bearing-tick" d="M${(at.x * width).toFixed(1)} ${height - 9}v9"></path><text class="bearing" x=${(at.x * width).toFixed(1)} y=${height - 13} text-anchor="middle">${text}</text>`,
    );
  }
  return marks;
}
