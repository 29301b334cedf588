import { type Document, isMap, isNode, isPair, isScalar, type LineCounter } from "yaml";

/** The line [1…] on which a field stands, or else the nearest thing around it that is in the file. */
export function lineOf(document: Document, lines: LineCounter, path: readonly PropertyKey[]): number | undefined {
  for (let length = path.length; length >= 0; length--) {
    const offset = offsetOf(document, path.slice(0, length));
    if (offset !== undefined) return lines.linePos(offset).line;
  }
  return undefined;
}

/** A key's own place where there is one: the value of a map begins on the line after it. */
function offsetOf(document: Document, path: readonly PropertyKey[]): number | undefined {
  const parent = path.length === 0 ? undefined : document.getIn(path.slice(0, -1), true);
  if (isMap(parent)) {
    const pair = parent.items.find((item) => isPair(item) && isScalar(item.key) && item.key.value === path.at(-1));
    return isScalar(pair?.key) ? pair.key.range?.[0] : undefined;
  }
  const node = document.getIn(path, true);
  return isNode(node) ? node.range?.[0] : undefined;
}
