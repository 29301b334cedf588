/*
 * What ends a line, moves a terminal's cursor, turns the direction of a text or may not stand in XML: control characters,
 * separators of lines and paragraphs, halves of pairs, marks of direction (Unicode TR 36) and what is no character.
 */
const HIDDEN = /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/gu;

/** Replace what must not reach a terminal or a line of a file by blanks. */
export function printable(text: string): string {
  return text.replace(HIDDEN, " ");
}

export function isPrintable(text: string): boolean {
  return printable(text) === text;
}
