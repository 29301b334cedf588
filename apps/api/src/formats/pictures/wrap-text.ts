import { fitText, textWidth } from "./labels";

/** A text in lines of a width; the last of the most lines is cut where more is left. */
export function wrapText(text: string, sizePx: number, widthPx: number, most: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line !== "" && textWidth(longer, sizePx) > widthPx) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  lines.push(line);
  const kept = lines.length <= most ? lines : [...lines.slice(0, most - 1), lines.slice(most - 1).join(" ")];
  return kept.map((one) => fitText(one, sizePx, widthPx));
}
