import { expect } from "vitest";

const TOKEN =
  /<\?xml version="1\.0" encoding="UTF-8"\?>\n|<\/([A-Za-z][\w-]*)>|<([A-Za-z][\w-]*)((?: [A-Za-z][\w-]*="(?:[^"<&]|&(?:amp|lt|gt|quot|#39);)*")*)(\/?)>|((?:[^<&]|&(?:amp|lt|gt|quot|#39);)+)/gy;
// biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0 has no place for them
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff\ud800-\udfff]/u;

/** Holds a document to XML's rules of form, as far as our pictures use XML: nesting, one root, quoted unique attributes, escaped text. */
export function expectWellFormed(xml: string): void {
  expect(xml).not.toMatch(FORBIDDEN);
  const open: string[] = [];
  let roots = 0;
  let end = 0;
  for (const match of xml.matchAll(TOKEN)) {
    const [whole, closing, opening, attributes, empty, text] = match;
    expect(match.index, `a token at ${end}: ${xml.slice(end, end + 60)}`).toBe(end);
    end = match.index + whole.length;
    if (closing !== undefined) expect(open.pop(), `the end of ${closing}`).toBe(closing);
    if (text !== undefined && open.length === 0) expect(text.trim()).toBe("");
    if (opening === undefined) continue;
    const names = [...(attributes ?? "").matchAll(/ ([\w-]+)="/g)].map(([, name]) => name);
    expect(new Set(names).size, `attributes of ${opening}`).toBe(names.length);
    if (open.length === 0) roots++;
    if (empty === "") open.push(opening);
  }
  expect(end, `a token at ${end}: ${xml.slice(end, end + 60)}`).toBe(xml.length);
  expect(open).toEqual([]);
  expect(roots).toBe(1);
}

/** What a reader sees of escaped text. */
export function plain(markup: string): string {
  return markup
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");
}

/** A good picture, its form held to what every picture of ours keeps. */
export async function pictureOf(response: Response | Promise<Response>): Promise<string> {
  const settled = await response;
  const markup = await settled.text();
  expect(settled.status, markup).toBe(200);
  expect(settled.headers.get("Content-Type")).toBe("image/svg+xml");
  expect(settled.headers.get("Content-Security-Policy")).toContain("default-src 'none'");
  expectWellFormed(markup);
  expect(markup).toMatch(
    /role="img" aria-labelledby="title desc"><title id="title">[^<]+<\/title><desc id="desc">[^<]+<\/desc>/,
  );
  expect(markup).toContain("@media (prefers-color-scheme:dark)");
  expect(markup).not.toMatch(/NaN|Infinity|undefined|\[object/);
  // nothing in it loads or runs anything
  expect(markup).not.toMatch(/<script|<image|<foreignObject|href=| on[a-z]+="|@import|url\((?!#frame\))/i);
  return markup;
}
