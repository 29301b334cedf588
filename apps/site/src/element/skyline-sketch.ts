import type { Forecast } from "@fieldstop/sdk";

const SVG = "http://www.w3.org/2000/svg";
const WIDTH = 360;
const HEIGHT = 96;

/** The skyline in the frame as a strip; null where the camera's direction is not known, or no skyline crosses the frame. */
export function drawSkyline({ skyline }: Forecast): SVGElement | null {
  const points = skyline?.points ?? [];
  if (points.length < 2) return null;
  const ys = points.map(({ y }) => y);
  const top = Math.min(...ys);
  const bottom = Math.max(...ys);
  // the skyline fills the middle of the strip, however flat it is, but a sea is not made a mountain
  const span = Math.max(0.06, bottom - top);
  const toY = (y: number): number => HEIGHT * 0.3 + ((y - top) / span) * HEIGHT * 0.5;
  const line = points.map(({ x, y }) => `${(x * WIDTH).toFixed(1)} ${toY(y).toFixed(1)}`).join("L");
  const first = points[0]?.x ?? 0;
  const last = points.at(-1)?.x ?? 1;
  return make(
    "svg",
    { class: "skyline", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" },
    make("rect", { class: "sky", width: String(WIDTH), height: String(HEIGHT) }),
    make("path", {
      class: "land",
      d: `M${(first * WIDTH).toFixed(1)} ${HEIGHT}L${line}L${(last * WIDTH).toFixed(1)} ${HEIGHT}Z`,
    }),
  );
}

function make(name: string, attributes: Readonly<Record<string, string>>, ...children: SVGElement[]): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}
