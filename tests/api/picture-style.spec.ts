import { PICTURE_STYLE } from "@fieldstop/api/formats/pictures/style";
import { describe, expect, it } from "vitest";

const [day = "", night = ""] = [...PICTURE_STYLE.matchAll(/svg\{([^}]+)\}/g)].map(([, colours]) => colours);
const coloursOf = (list: string): Map<string, string> =>
  new Map([...list.matchAll(/--(\w+):#([0-9a-f]{6})/g)].map(([, name, hex]) => [name as string, hex as string]));

// WCAG 2.1: relative luminance and contrast ratio
const luminance = (hex: string): number => {
  const [r, g, b] = [0, 2, 4].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.03928 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number => {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
};

describe.each([
  ["light", coloursOf(day)],
  ["dark", coloursOf(night)],
])("the %s colours", (_, colours) => {
  it("are the same set in both", () => {
    expect([...colours.keys()]).toEqual([...coloursOf(day).keys()]);
    expect(colours.size).toBe(12);
  });

  // WCAG 2.1, 1.4.3 for text and 1.4.11 for what must be made out
  it.each([
    ["ink", "paper", 4.5],
    ["faint", "paper", 4.5],
    ["faint", "sky", 4.5],
    ["ink", "sky", 4.5],
    ["mark", "paper", 4.5],
    ["onland", "land", 4.5],
    ["sun", "sky", 3],
    ["moon", "sky", 3],
    ["land", "sky", 1.5],
    ["edge", "sky", 4.5],
    ["mark", "sky", 3],
  ])("tell %s from %s", (front, back, least) => {
    expect(contrast(colours.get(front) as string, colours.get(back) as string)).toBeGreaterThanOrEqual(least);
  });
});
