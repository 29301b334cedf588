import {
  type BodyInFrame,
  type FramePoint,
  type FramingCamera,
  frameProjection,
  type HorizonProfile,
  horizonAltitudeDeg,
  type SkylineInFrame,
} from "@fieldstop/core";
import { scaleLinear } from "d3-scale";
import { area, line } from "d3-shape";
import { cameraLine, describeFrame, type FramePicture, titleOf } from "./frame-picture-words";
import { fitText } from "./labels";
import { PICTURE_STYLE } from "./style";
import { picture, type SvgNode, svg } from "./svg";

/** The longer side of the frame [px]. */
const LONG_SIDE = 480;
const SIZE = 14;
const COLUMNS = 360;

const STYLE = `${PICTURE_STYLE}.frame{fill:none;stroke:var(--ink);stroke-width:1.5}.line{stroke:var(--mark);stroke-width:2;stroke-dasharray:9 6}.sun{fill:var(--sun)}.moon{fill:var(--moon)}.ring{fill:none;stroke-width:1.2;stroke-dasharray:2 3}.sunring{stroke:var(--sun)}.moonring{stroke:var(--moon)}.tick{stroke:var(--onland);stroke-width:1.2}.halo{paint-order:stroke;stroke:var(--sky);stroke-width:3px;stroke-linejoin:round}`;

/** The frame as the camera sees it: sky and land, the straight line nearest to the skyline, and the discs of sun and moon to scale. */
export function drawFrame(content: FramePicture): string {
  const { name, instant, camera, skyline, profile, sun, moon } = content;
  const scale = LONG_SIDE / Math.max(camera.widthMm, camera.heightMm);
  const width = camera.widthMm * scale;
  const height = camera.heightMm * scale;
  const top = SIZE * 3.6;
  const margin = SIZE * 0.7;
  const x = scaleLinear([0, 1], [margin, margin + width]);
  const y = scaleLinear([0, 1], [top, top + height]);
  const whole = { width: Math.round(width + 2 * margin), height: Math.round(top + height + margin) };

  const edge = skylineAcross(camera, profile).map((point) => [x(point.x), y(point.y)] as const);
  const land = area<readonly [number, number]>(
    (p) => p[0],
    y(1),
    (p) => p[1],
  ).digits(1)(edge) as string;
  const ridge = line<readonly [number, number]>(
    (p) => p[0],
    (p) => p[1],
  ).digits(1)(edge) as string;
  const { line: straight } = skyline;
  const heading = `${name === undefined ? "" : `${name} · `}${instant.slice(0, 10)} ${instant.slice(11, 16)}`;
  return picture(
    { ...whole, title: titleOf(content), description: describeFrame(content), style: STYLE },
    svg("defs", {}, svg("clipPath", { id: "frame" }, svg("rect", { x: x(0), y: y(0), width, height }))),
    svg("rect", { class: "paper", ...whole }),
    svg(
      "text",
      { class: "strong", x: margin, y: SIZE * 1.4, "font-size": SIZE * 1.1 },
      fitText(heading, SIZE * 1.15, width),
    ),
    svg(
      "text",
      { class: "faint", x: margin, y: SIZE * 2.9, "font-size": SIZE },
      fitText(cameraLine(camera), SIZE, width),
    ),
    svg(
      "g",
      { "clip-path": "url(#frame)" },
      svg("rect", { class: "sky", x: x(0), y: y(0), width, height }),
      ...drawDisc("moon", moon, x, y, height),
      ...drawDisc("sun", sun, x, y, height),
      svg("path", { class: "land", d: land }),
      svg("path", { class: "edge", d: ridge }),
      ...(straight === null
        ? []
        : [svg("line", { class: "line", x1: x(0), x2: x(1), y1: y(straight.yLeft), y2: y(straight.yRight) })]),
      ...azimuthTicks(skyline, x, y, [sun, moon]),
      ...drawMarker("moon", moon, x, y, height, width),
      ...drawMarker("sun", sun, x, y, height, width),
    ),
    svg("rect", { class: "frame", x: x(0), y: y(0), width, height }),
  );
}

/** Where the sky ends in each column, the columns that are all sky or all land included. */
function skylineAcross(camera: FramingCamera, profile: HorizonProfile): { x: number; y: number }[] {
  const { toSky } = frameProjection(camera);
  const isSky = (x: number, y: number): boolean => {
    const { azimuthDeg, altitudeDeg } = toSky(x, y);
    return altitudeDeg > horizonAltitudeDeg(profile, azimuthDeg);
  };
  return Array.from({ length: COLUMNS + 1 }, (_, column) => {
    const x = column / COLUMNS;
    // from the top down, so that a ridge hides what is behind it
    const steps = 60;
    let step = 0;
    while (step <= steps && isSky(x, step / steps)) step++;
    if (step === 0) return { x, y: 0 };
    if (step > steps) return { x, y: 1 };
    let low = (step - 1) / steps;
    let high = step / steps;
    while (high - low > 1 / 4000) {
      const middle = (low + high) / 2;
      if (isSky(x, middle)) low = middle;
      else high = middle;
    }
    return { x, y: (low + high) / 2 };
  });
}

type Scale = (part: number) => number;
type Body = "sun" | "moon";

/** The disc to scale, before the land, which covers what it hides. */
function drawDisc(
  kind: Body,
  { x, y, discDiameterPercent }: BodyInFrame,
  toX: Scale,
  toY: Scale,
  height: number,
): SvgNode[] {
  if (x === null || y === null || discDiameterPercent === null) return [];
  return [svg("circle", { class: kind, cx: toX(x), cy: toY(y), r: (height * discDiameterPercent) / 200 })];
}

/** A ring that finds the small disc, dashed over the land that hides it, and its name. */
function drawMarker(kind: Body, body: BodyInFrame, toX: Scale, toY: Scale, height: number, width: number): SvgNode[] {
  const { x, y, inFrame, discDiameterPercent, aboveSkyline } = body;
  if (!inFrame || x === null || y === null || discDiameterPercent === null) return [];
  const r = (height * discDiameterPercent) / 200 + SIZE * 0.6;
  const name = `${kind} ${body.altitudeDeg.toFixed(1)}°${aboveSkyline ? "" : ", hidden"}`;
  const cx = toX(x);
  const cy = toY(y);
  const late = cx > width * 0.7;
  const text = {
    class: aboveSkyline ? "halo" : "onland",
    x: cx + (late ? -1 : 1) * (aboveSkyline ? r + 4 : -r),
    // what is hidden is named below its ring, clear of the skyline
    y: aboveSkyline ? cy + SIZE * 0.35 : cy + r + SIZE,
    "font-size": SIZE,
    "text-anchor": late ? "end" : "start",
  };
  return [svg("circle", { class: `ring ${kind}ring`, cx, cy, r }), svg("text", text, name)];
}

/** Azimuths along the skyline, at round numbers. */
function azimuthTicks({ points }: SkylineInFrame, x: Scale, y: Scale, bodies: readonly BodyInFrame[]): SvgNode[] {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return [];
  // counted on from the left edge, so that north lies between 350 and 370
  const onward = (deg: number): number =>
    ((((deg - first.azimuthDeg + 180) % 360) + 360) % 360) - 180 + first.azimuthDeg;
  const ticks = scaleLinear([first.azimuthDeg, onward(last.azimuthDeg)], [0, 1]).ticks(5);
  return ticks.filter(Number.isInteger).flatMap((tick) => {
    const nearest = points.reduce((a, b) =>
      Math.abs(onward(a.azimuthDeg) - tick) <= Math.abs(onward(b.azimuthDeg) - tick) ? a : b,
    );
    const at = { x: x(nearest.x), y: y(nearest.y) };
    if (bodies.some((body) => isWritten(body, x, y, at))) return [];
    return [
      svg("line", { class: "tick", x1: at.x, x2: at.x, y1: at.y + 3, y2: at.y + 10 }),
      svg(
        "text",
        { class: "onland", x: at.x, y: at.y + 10 + SIZE, "font-size": SIZE * 0.9, "text-anchor": "middle" },
        `${((tick % 360) + 360) % 360}°`,
      ),
    ];
  });
}

/** Whether the name of a hidden body stands where a tick would. */
function isWritten({ x, y, inFrame, aboveSkyline }: BodyInFrame, toX: Scale, toY: Scale, tick: FramePoint): boolean {
  if (!inFrame || aboveSkyline || x === null || y === null) return false;
  return Math.abs(toX(x) - tick.x) < SIZE * 10 && Math.abs(toY(y) - tick.y) < SIZE * 3;
}
