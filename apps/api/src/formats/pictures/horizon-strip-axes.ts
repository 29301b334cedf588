import { type SvgNode, svg } from "./svg";

const COMPASS = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"] as const;

/** Level lines at round altitudes, named at the left. */
export function altitudeRules(
  y: (deg: number) => number,
  highest: number,
  left: number,
  right: number,
  size: number,
): SvgNode[] {
  const rules: SvgNode[] = [];
  let lastY = Number.POSITIVE_INFINITY;
  for (const altitude of [0, 2, 5, 10, 20, 30, 45, 60, 75, 90]) {
    const at = y(altitude);
    // over the top, or too near the one below to be read
    if (altitude > highest || lastY - at < size * 1.2) continue;
    lastY = at;
    rules.push(
      svg("line", { class: "rule", x1: left, x2: right, y1: at, y2: at }),
      svg(
        "text",
        { class: "faint", x: left - size * 0.4, y: at + size * 0.35, "font-size": size * 0.9, "text-anchor": "end" },
        `${altitude}°`,
      ),
    );
  }
  return rules;
}

/** Directions along the foot. */
export function compass(
  along: (deg: number) => number,
  centreDeg: number,
  [left, right]: [number, number],
  bottom: number,
  size: number,
  wide: boolean,
): SvgNode[] {
  const at = (x: number, name: string, anchor: string): SvgNode[] => [
    svg("line", { class: "rule", x1: x, x2: x, y1: bottom, y2: bottom + size * 0.4 }),
    svg("text", { x, y: bottom + size * 1.6, "font-size": size, "text-anchor": anchor }, name),
  ];
  const named = COMPASS.map((name, i) => ({ name, deg: i * 45 })).filter(({ deg }) => wide || deg % 90 === 0);
  return named.flatMap(({ name, deg }) => {
    const text = wide ? `${name} ${deg}°` : name;
    // the ends of the strip are one direction, which stands at both
    if ((deg - centreDeg + 360) % 360 === 180) return [...at(left, text, "start"), ...at(right, text, "end")];
    return at(along(deg), text, "middle");
  });
}
