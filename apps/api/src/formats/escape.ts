// Line ends, control characters, and the marks that turn the direction of what follows them
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const UNSEEN = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]+/g;
const LONE_SURROGATES = /\p{Surrogate}/gu;

/** Text on one line, whoever wrote it: it can neither begin a line of its own nor turn the rest of its line round. */
export function oneLine(text: string): string {
  return text.replace(LONE_SURROGATES, "\ufffd").replace(UNSEEN, " ").trim();
}

// CommonMark 0.31, 2.4: any ASCII punctuation may be escaped, and then has no meaning. These have one inside a line, in it or in the extensions that
// most readers know: emphasis, code, links, HTML, entities, tables, mentions, formulas. A colon before a slash and a point after www begin links
const MEANINGFUL = /[\\`*_~[\]<>|&!#@$^{}]|:(?=\/)|(?<=\bwww)\./gi;

/** Text as Markdown that shows it as it is, anywhere but at the beginning of a line: no markup, no HTML, no link. */
export function escapeMarkdown(text: string): string {
  return oneLine(text).replace(MEANINGFUL, "\\$&");
}
