import { type HorizonProfile, horizonAltitudeDeg, type LightWindows } from "@fieldstop/core";
import { scaleLinear, scaleSymlog } from "d3-scale";
import { area, line } from "d3-shape";
import { altitudeRules, compass } from "./horizon-strip-axes";
import { drawCuts, placeCutLabels } from "./horizon-strip-cuts";
import { cutsOf, describeStrip, doubtfulRanges, footNotes, summaryOf } from "./horizon-strip-words";
import { fitText, joinWhileFits, textWidth } from "./labels";
import { PICTURE_STYLE } from "./style";
import { picture, type SvgNode, svg } from "./svg";

/** Where the sun stands at one instant. */
export interface SunPathPoint {
  readonly instantMs: number;
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
}

export interface HorizonStrip {
  readonly light: LightWindows;
  readonly profile: HorizonProfile;
  /** The sun over the whole day, in order of time, evenly spaced. */
  readonly sunPath: readonly SunPathPoint[];
  /** The sun at the full hours of the place, each with its hour. */
  readonly hours: readonly (SunPathPoint & { readonly hour: number })[];
  /** [px], 320 to 2400 */
  readonly width: number;
}

/** How far apart the points of the sun's path are. */
export const SUN_PATH_STEP_MS = 2 * 60_000;

const NAMELESS = "a place";

const STYLE = `${PICTURE_STYLE}.lit{fill:none;stroke:var(--sun);stroke-width:3;stroke-linecap:round}.veiled{fill:none;stroke:var(--veil);stroke-width:1.4;stroke-dasharray:1 4;stroke-linecap:round}.hour{fill:var(--paper);stroke:var(--sun);stroke-width:1.6}.cut{fill:var(--mark);stroke:var(--paper);stroke-width:1.5}.lead{stroke:var(--mark);stroke-width:1}.when{fill:var(--mark);font-weight:600;paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}.behind{fill:none;stroke:var(--onland);stroke-width:1.6;stroke-dasharray:1 4;stroke-linecap:round}.doubt{stroke:var(--onland);stroke-width:4;stroke-dasharray:2 4}`;

/**
 * The skyline all round as one strip, the sun's path of a day over it, and the moments at which the skyline cuts it, with local time and azimuth.
 * The strip is centred on the sun's noon, so that its path is whole. Altitudes are drawn the closer together the higher they are: a ridge of 3° and a
 * sun at 60° both show.
 */
export function drawHorizonStrip(strip: HorizonStrip): string {
  const { light, profile, sunPath, width } = strip;
  const wide = width >= 720;
  const size = wide ? 14 : 12;
  const cuts = cutsOf(light);
  const noonAzimuthDeg = light.events.find(({ name }) => name === "solar-noon")?.azimuthDeg ?? 180;
  const centreDeg = noonAzimuthDeg > 90 && noonAzimuthDeg < 270 ? 180 : 0;

  const left = size * 2.6;
  const right = width - size * 0.6;
  const x = scaleLinear([-180, 180], [left, right]);
  const along = (azimuthDeg: number): number => x(((((azimuthDeg - centreDeg + 180) % 360) + 360) % 360) - 180);
  const placed = placeCutLabels(cuts, along, size, width);
  const rows = Math.max(1, ...placed.map(({ row }) => (row ?? 0) + 1));
  const top = size * 3.9 + rows * size * 1.5;
  const bottom = top + (wide ? 250 : 170);
  const note = joinWhileFits(
    footNotes(light, placed.filter(({ row }) => row === null).length),
    size * 0.9,
    width - left,
  );
  const height = Math.round(bottom + size * (note === "" ? 2.4 : 3.8));

  const highest = Math.max(12, ...sunPath.map(({ altitudeDeg }) => altitudeDeg), ...profile.altitudesDeg);
  const lowest = Math.min(-2, ...profile.altitudesDeg);
  const y = scaleSymlog([Math.max(-30, lowest - 0.5), Math.min(90, highest * 1.08)], [bottom, top])
    .constant(4)
    .clamp(true);

  const skyline = Array.from({ length: Math.min(720, width) + 1 }, (_, i, all = Math.min(720, width)) => {
    const offsetDeg = -180 + (360 * i) / all;
    return [x(offsetDeg), y(horizonAltitudeDeg(profile, centreDeg + offsetDeg))] as const;
  });
  const land = area<readonly [number, number]>(
    (p) => p[0],
    bottom,
    (p) => p[1],
  ).digits(1)(skyline) as string;
  const edge = line<readonly [number, number]>(
    (p) => p[0],
    (p) => p[1],
  ).digits(1)(skyline) as string;
  const pathOf = (points: readonly SunPathPoint[]): string => drawPath(points, along, y, (right - left) / 2);
  const lit = litStretches(light, sunPath);

  const { name = NAMELESS, latitude, longitude } = light.place;
  const title = `Skyline and sun at ${name}, ${light.date}`;
  const inner = width - size * 1.2;
  const day = ` · ${light.date}`;
  const where = name === NAMELESS ? `${latitude.toFixed(3)}°, ${longitude.toFixed(3)}°` : name;
  // bold text at 1.15 of the size is a quarter wider
  const heading = `${fitText(where, size * 1.3, inner - textWidth(day, size * 1.3))}${day}`;
  return picture(
    { width, height, title, description: describeStrip(light, cuts, centreDeg), style: STYLE },
    svg("rect", { class: "paper", width, height }),
    svg("text", { class: "strong", x: size * 0.6, y: size * 1.5, "font-size": size * 1.15 }, heading),
    svg(
      "text",
      { class: "faint", x: size * 0.6, y: size * 3, "font-size": size },
      joinWhileFits(summaryOf(light), size, inner),
    ),
    svg("rect", { class: "sky", x: left, y: top, width: right - left, height: bottom - top }),
    ...altitudeRules(y, y.domain()[1] as number, left, right, size),
    svg("path", {
      class: "veiled",
      d: pathOf(sunPath.filter(({ altitudeDeg }) => altitudeDeg > (y.domain()[0] as number))),
    }),
    svg("path", { class: "land", d: land }),
    svg("path", { class: "edge", d: edge }),
    svg("path", {
      class: "behind",
      d: pathOf(
        sunPath.filter(
          (point) => point.altitudeDeg > 0 && point.altitudeDeg < horizonAltitudeDeg(profile, point.azimuthDeg),
        ),
      ),
    }),
    ...lit.map((stretch) => svg("path", { class: "lit", d: pathOf(stretch) })),
    ...hourDots(strip, along, y, wide, size),
    ...doubtfulAzimuths(light, along, bottom - 3, [left, right]),
    ...(note === ""
      ? []
      : [svg("text", { class: "faint", x: left, y: bottom + size * 3.1, "font-size": size * 0.9 }, note)]),
    ...compass(along, centreDeg, x.range() as [number, number], bottom, size, wide),
    ...drawCuts(cuts, placed, along, (azimuthDeg) => y(horizonAltitudeDeg(profile, azimuthDeg)), size),
  );
}

/** The full hours in direct light; on a wide strip with their numbers, on the inner side of the path where they stand free. */
function hourDots(
  { hours, profile, light }: HorizonStrip,
  along: (deg: number) => number,
  y: (deg: number) => number,
  wide: boolean,
  size: number,
): SvgNode[] {
  const middle = along(light.events.find(({ name }) => name === "solar-noon")?.azimuthDeg ?? 180);
  const lit = ({ instantMs }: SunPathPoint): boolean =>
    light.directLight.intervals.some(
      ({ start, end }) => instantMs >= Date.parse(start) && instantMs <= Date.parse(end),
    );
  let lastX = Number.NaN;
  return hours.filter(lit).flatMap(({ hour, azimuthDeg, altitudeDeg }) => {
    const cx = along(azimuthDeg);
    const cy = y(altitudeDeg);
    const dot = svg("circle", { class: "hour", cx, cy, r: wide ? 3 : 2 });
    const base = cy + size * 1.35;
    const crowded = Math.abs(cx - lastX) < size * 1.7 || base > y(horizonAltitudeDeg(profile, azimuthDeg)) - 2;
    if (!wide || crowded) return [dot];
    lastX = cx;
    const inward = size * Math.max(-1, Math.min(1, (middle - cx) / 250));
    const text = { class: "faint", x: cx + inward, y: base, "font-size": size * 0.85, "text-anchor": "middle" };
    return [dot, svg("text", text, String(hour))];
  });
}

/** A dashed line along the foot where elevation data is missing. */
function doubtfulAzimuths(
  { horizon }: LightWindows,
  along: (deg: number) => number,
  foot: number,
  ends: readonly [number, number],
): SvgNode[] {
  const dashes = (x1: number, x2: number): SvgNode => svg("line", { class: "doubt", x1, x2, y1: foot, y2: foot });
  return doubtfulRanges(horizon).flatMap(([from, to]) => {
    const x1 = along(from);
    const x2 = along(to);
    // a range that runs over the ends of the strip is in two pieces
    return x2 > x1 ? [dashes(x1, x2)] : [dashes(ends[0], x2), dashes(x1, ends[1])];
  });
}

/** The path in pieces that never run back across the whole strip. */
function drawPath(
  points: readonly SunPathPoint[],
  along: (deg: number) => number,
  y: (deg: number) => number,
  farthest: number,
): string {
  const pieces: [number, number][][] = [];
  points.forEach((point, i) => {
    const before = points[i - 1];
    const at: [number, number] = [along(point.azimuthDeg), y(point.altitudeDeg)];
    const joins =
      before !== undefined &&
      point.instantMs - before.instantMs < 1.5 * SUN_PATH_STEP_MS &&
      Math.abs(at[0] - along(before.azimuthDeg)) < farthest;
    if (joins) pieces.at(-1)?.push(at);
    else pieces.push([at]);
  });
  return pieces.map((piece) => line().digits(1)(piece)).join("");
}

/** The parts of the path in direct light, from edge to edge. */
function litStretches({ directLight }: LightWindows, sunPath: readonly SunPathPoint[]): SunPathPoint[][] {
  return directLight.intervals
    .map(({ start, end }) =>
      sunPath.filter(({ instantMs }) => instantMs >= Date.parse(start) && instantMs <= Date.parse(end)),
    )
    .filter((stretch) => stretch.length > 0);
}
