import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { breakingChanges } from "../../openapi/breaking-changes";

// biome-ignore lint/suspicious/noExplicitAny: a document to be changed at any depth
type Document = any;
const whole: Document = JSON.parse(readFileSync(new URL("../../openapi/openapi.json", import.meta.url), "utf8"));
const paths = ["/v1/sun", "/v1/moon", "/v1/dew-point", "/v1/brackets/plan"].map((path) => [path, whole.paths[path]]);
const text = JSON.stringify({ ...whole, paths: Object.fromEntries(paths) });
const changed = (change: (document: Document) => void) => {
  const later: Document = JSON.parse(text);
  change(later);
  return breakingChanges(JSON.parse(text), later).map(({ at }) => at);
};
const schema = (document: Document, name: string): Document => document.components.schemas[name].properties;

describe("breaking changes of the contract", () => {
  it("are none where it stays the same", () => {
    expect(changed(() => {})).toEqual([]);
  });

  it("are none where it grows: a field of an answer, an optional parameter, an operation, a code", () => {
    const grown = changed((document) => {
      schema(document, "SunPosition").glow = { type: "number" };
      document.paths["/v1/sun"].get.parameters.push({ name: "glow", in: "query", schema: { type: "number" } });
      document.paths["/v1/moonbow"] = { get: document.paths["/v1/moon"].get };
      schema(document, "BracketWarning").code.enum.push("dew-on-the-lens");
    });
    expect(grown).toEqual([]);
  });

  it("are none where an inline shape gets a name", () => {
    const named = changed((document) => {
      document.components.schemas.Grown = document.components.schemas.BracketFrame;
      schema(document, "BracketPlan").frames.items = { $ref: "#/components/schemas/Grown" };
    });
    expect(named).toEqual([]);
  });

  it.each<[string, (document: Document) => void]>([
    ["an operation that is gone", (document) => delete document.paths["/v1/dew-point"]],
    ["a field of an answer that is gone", (document) => delete schema(document, "SunPosition").altitudeDeg],
    [
      "a parameter that is now required",
      (document) => {
        const { parameters } = document.paths["/v1/sun"].get;
        parameters.find((each: Document) => each.name === "instant").required = true;
      },
    ],
    ["a range that is narrower", (document) => (schema(document, "BracketCameraInput").aperture.maximum = 5)],
    ["an answer of another type", (document) => (schema(document, "BracketFrame").nominal.type = "number")],
    ["a choice that is gone", (document) => schema(document, "BracketCameraInput").orientation.enum.pop()],
  ])("are told: %s", (_what, change) => {
    expect(changed(change).length).toBeGreaterThan(0);
  });
});
