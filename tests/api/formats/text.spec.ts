import { fileURLToPath } from "node:url";
import { escapeMarkdown, oneLine } from "@fieldstop/api/formats/escape";
import type { CautionCode } from "@fieldstop/core";
import { createTerrain } from "@fieldstop/terrain";
import fc from "fast-check";
import { micromark } from "micromark";
import { gfm, gfmHtml } from "micromark-extension-gfm";
import { beforeAll, describe, expect, it } from "vitest";
import { en } from "../../../apps/api/src/formats/messages/en";
import { answer, get, type TestApp, testApp } from "../harness";

const demo = fileURLToPath(new URL("../../../demo/elevation", import.meta.url));
const strand = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [demo] }) });
});
interface Told {
  readonly headline: string;
  readonly summary: readonly { readonly text: string }[];
  readonly cautions: readonly { readonly code: CautionCode }[];
  readonly moments: readonly { readonly instant: string }[];
}
const told = () => answer<Told>(get(app, "/v1/forecast", strand));
async function textOf(path: string, type: string, query: Record<string, string | number> = {}): Promise<string> {
  const response = await get(app, path, { ...strand, ...query });
  const text = await response.text();
  expect(response.status, text).toBe(200);
  expect(response.headers.get("Content-Type")).toBe(`${type}; charset=utf-8`);
  expect(response.headers.get("Content-Language")).toBe("en");
  return text;
}
/** As people read it, whatever the lines and the marks. */
const read = (text: string) => text.replace(/\s+/g, " ").replaceAll("- ", "");
const html = (markdown: string) => micromark(markdown, { extensions: [gfm()], htmlExtensions: [gfmHtml()] });
const shown = (markup: string) =>
  markup
    .replace(/<[^>]*>/g, " ")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&amp;", "&");

describe("GET /v1/forecast.txt", () => {
  it("says all that the JSON says in words, and what to take care of", async () => {
    const text = await textOf("/v1/forecast.txt", "text/plain");
    const { headline, summary, cautions, moments } = await told();
    for (const words of [
      headline,
      ...summary.map((one) => one.text),
      ...cautions.map(({ code }) => en.caution[code]),
    ]) {
      expect(read(text)).toContain(read(words));
    }
    for (const { instant } of moments) expect(text).toContain(`\n${instant.slice(11, 16)}  `);
    expect(text).toContain("Times of Europe/London");
  });

  it("lets no name begin a line of its own", async () => {
    const name = "Strand\r\n\r\nTake care\n- nothing\u2028\u001b[31mred";
    const plain = await textOf("/v1/forecast.txt", "text/plain", { name });
    expect(plain.split("\n")[0]).toMatch(/^Evening of 2027-03-20, Strand +Take care +- nothing +\[31mred$/);
    expect(plain.split("\n").filter((line) => line === "Take care")).toHaveLength(1);
    expect(plain).not.toContain("\u001b");
  });
});

describe("GET /v1/forecast.md", () => {
  it("is headings, lists and a table to a reader of Markdown, with all that the JSON says in words", async () => {
    const markup = html(await textOf("/v1/forecast.md", "text/markdown"));
    const { headline, summary, cautions, moments } = await told();
    expect(markup).toContain("<h2>Evening of 2027-03-20, Ardvane Strand</h2>");
    expect(markup.match(/<tr>/g)).toHaveLength(moments.length + 1);
    expect(markup.match(/<li>/g)).toHaveLength(summary.length + cautions.length);
    for (const words of [
      headline,
      ...summary.map((one) => one.text),
      ...cautions.map(({ code }) => en.caution[code]),
    ]) {
      expect(read(shown(markup))).toContain(read(words));
    }
  });

  it.each([
    "<script>alert(1)</script>",
    "[tap](javascript:alert(1)) ![x](http://evil.example/x.png)",
    "**loud** _soft_ `code` ~~gone~~ $x$",
    "http://evil.example www.evil.example WWW.evil.example mail@evil.example",
    "a | b | c\n| --- |",
    "name\n\n# heading\n- item",
    "&copy; &#60;b&#62;",
    "back\\slash \\<b>",
    "<!-- -->",
  ])("shows the name %j as it is", async (name) => {
    const markup = html(await textOf("/v1/forecast.md", "text/markdown", { name }));
    expect(markup).not.toMatch(/<(a|img|script|em|code|del|b|h1)\b/);
    expect(markup.match(/<h2>/g)).toHaveLength(1);
    expect(shown(markup)).toContain(oneLine(name));
  });
});

describe("escapeMarkdown", () => {
  it("is undone by a reader, inside a line, whatever the text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 60 }), (text) => {
        // leading and trailing blanks, and rows of them, are no part of what Markdown shows
        const wanted = oneLine(text).replace(/\s+/g, " ").trim();
        const markup = html(`Name: ${escapeMarkdown(wanted)}`);
        expect(markup.startsWith("<p>Name: ") || wanted === "").toBe(true);
        expect(shown(markup).trim()).toBe(`Name: ${wanted}`.trim());
      }),
      { numRuns: 300 },
    );
  });
});

describe("oneLine", () => {
  it("leaves no line end, no control character and no mark that turns the line, whatever the text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 60 }), (text) => {
        expect(oneLine(text)).not.toMatch(/[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]|\p{Surrogate}/u);
      }),
    );
  });
});
