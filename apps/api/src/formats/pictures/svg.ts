import { escapeXml } from "../escape";

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** A piece of SVG that is safe to put into another. */
export interface SvgNode {
  readonly markup: string;
}

/** One element; strings among its children are text and are escaped, numbers are written to a hundredth. */
export function svg(name: string, attributes: Attributes = {}, ...children: readonly (SvgNode | string)[]): SvgNode {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? hundredths(value) : escapeXml(value as string)}"`)
    .join("");
  const inner = children.map((child) => (typeof child === "string" ? escapeXml(child) : child.markup)).join("");
  return { markup: inner === "" ? `<${name}${written}/>` : `<${name}${written}>${inner}</${name}>` };
}

export interface PictureDetails {
  readonly width: number;
  readonly height: number;
  /** What the picture is, and what it shows, for those who do not see it. */
  readonly title: string;
  readonly description: string;
  readonly style: string;
}

/** A whole document: it scales to where it is put, and reads as one image with its text alternative. */
export function picture({ width, height, title, description, style }: PictureDetails, ...children: SvgNode[]): string {
  const root = {
    xmlns: "http://www.w3.org/2000/svg",
    viewBox: `0 0 ${width} ${height}`,
    width,
    height,
    role: "img",
    "aria-labelledby": "title desc",
  };
  const head = [
    svg("title", { id: "title" }, title),
    svg("desc", { id: "desc" }, description),
    svg("style", {}, style),
  ];
  return `<?xml version="1.0" encoding="UTF-8"?>\n${svg("svg", root, ...head, ...children).markup}\n`;
}

function hundredths(value: number): string {
  if (!Number.isFinite(value)) throw new Error(`a number that is not finite reached a picture: ${value}`);
  return String(Math.round(value * 100) / 100);
}
