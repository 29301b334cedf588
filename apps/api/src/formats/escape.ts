// Line ends, control characters, the marks that turn the direction of what follows them, and what is no character at all
const UNSEEN = /[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\p{Noncharacter_Code_Point}\ufeff]+/gu;
const LONE_SURROGATES = /\p{Surrogate}/gu;

/** Text of which every character is seen or is space between others, whoever wrote it: it can neither end its line nor turn the rest of the line round. */
function visible(text: string): string {
  return text.replace(LONE_SURROGATES, "\ufffd").replace(UNSEEN, " ");
}

/** Text on one line of its own. */
export function oneLine(text: string): string {
  return visible(text).trim();
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text as it may stand between tags or in an attribute. */
export function escapeXml(text: string): string {
  return visible(text).replace(/[&<>"']/g, (character) => ENTITIES[character] as string);
}

// CommonMark 0.31, 2.4: any ASCII punctuation may be escaped, and then has no meaning. These have one inside a line, in it or in the extensions that
// most readers know: emphasis, code, links, HTML, entities, tables, mentions, formulas. A colon before a slash and a point after www begin links
const MEANINGFUL = /[\\`*_~[\]<>|&!#@$^{}]|:(?=\/)|(?<=\bwww)\./gi;

/** Text as Markdown that shows it as it is, anywhere but at the beginning of a line: no markup, no HTML, no link. */
export function escapeMarkdown(text: string): string {
  return oneLine(text).replace(MEANINGFUL, "\\$&");
}
