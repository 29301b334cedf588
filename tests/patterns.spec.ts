import { readdirSync, readFileSync } from "node:fs";
import { analyse } from "scslre";
import ts from "typescript";
import { describe, expect, it } from "vitest";

// A pattern that takes more than linear time holds the event loop for everyone.

interface Pattern {
  readonly at: string;
  readonly source: string;
  readonly flags: string;
}

const root = new URL("..", import.meta.url).pathname;
const files = ["apps", "packages"]
  .flatMap((folder) => readdirSync(`${root}${folder}`).map((name) => `${folder}/${name}/src`))
  .flatMap((folder) =>
    readdirSync(`${root}${folder}`, { recursive: true, encoding: "utf8" }).map((file) => `${folder}/${file}`),
  )
  .filter((file) => /\.m?[jt]s$/.test(file) && !file.includes("/generated/"));

/** The text of a string that is written out. */
function textOf(node: ts.Expression | undefined): string | undefined {
  return node !== undefined && ts.isStringLiteralLike(node) ? node.text : undefined;
}

/** Each regular expression of a file: literals, and those made from a string that is written out. */
function patternsOf(file: string): Pattern[] {
  const source = ts.createSourceFile(file, readFileSync(`${root}${file}`, "utf8"), ts.ScriptTarget.Latest, true);
  const found: Pattern[] = [];
  const visit = (node: ts.Node): void => {
    const at = `${file}:${source.getLineAndCharacterOfPosition(node.getStart()).line + 1}`;
    if (ts.isRegularExpressionLiteral(node)) {
      const end = node.text.lastIndexOf("/");
      found.push({ at, source: node.text.slice(1, end), flags: node.text.slice(end + 1) });
    }
    if ((ts.isNewExpression(node) || ts.isCallExpression(node)) && node.expression.getText() === "RegExp") {
      const text = textOf(node.arguments?.[0]);
      if (text !== undefined) found.push({ at, source: text, flags: textOf(node.arguments?.[1]) ?? "" });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

const patterns = files.flatMap(patternsOf);

/** The ways in which a pattern takes more than linear time. */
function slowWays({ source, flags }: Pick<Pattern, "source" | "flags">): string[] {
  return analyse(new RegExp(source, flags)).reports.map(({ type }) => type);
}

describe("regular expressions", () => {
  it("are found in the sources", () => {
    expect(files.length).toBeGreaterThan(300);
    expect(patterns.length).toBeGreaterThan(50);
  });

  it("are told apart by the checker", () => {
    expect(slowWays({ source: String.raw`^(\d+\.?\d*)$`, flags: "" })).not.toEqual([]);
    expect(slowWays({ source: String.raw`\/+$`, flags: "" })).not.toEqual([]);
    expect(slowWays({ source: String.raw`^(\d+(\.\d*)?)$`, flags: "" })).toEqual([]);
  });

  it.each(patterns)("$at /$source/$flags take linear time", (pattern) => {
    expect(slowWays(pattern)).toEqual([]);
  });
});
