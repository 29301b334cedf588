import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { answer, get, post, testApp } from "../harness";

// A name can neither end its line nor turn the rest of the line round, whatever an answer is written as.

const app = testApp();
const place = { latitude: 56.6, longitude: -9.4 };
const date = "2027-03-20";
const camera = { sensor: "full-frame", focalLengthMm: 24, azimuthDeg: 290 };
const span = { from: "2027-03-20T17:00:00Z", to: "2027-03-20T19:00:00Z", stepMinutes: 10 };

type Form = readonly [string, (name: string) => Promise<Response>];
const byQuery = (path: string, more: Record<string, string | number> = {}): Form => [
  `GET ${path}`,
  (name) => get(app, path, { ...place, date, name, ...more }),
];
const FORMS: readonly Form[] = [
  byQuery("/v1/forecast.svg"),
  byQuery("/v1/forecast.md"),
  byQuery("/v1/forecast.txt"),
  byQuery("/v1/forecast.ics", { days: 2 }),
  byQuery("/v1/light-windows.svg"),
  byQuery("/v1/light-windows.ics", { days: 2 }),
  byQuery("/v1/horizon.svg", { horizon: "flat" }),
  ["POST /v1/light-levels.svg", (name) => post(app, "/v1/light-levels.svg", { place: { ...place, name }, ...span })],
  [
    "POST /v1/skyline.svg",
    (name) => post(app, "/v1/skyline.svg", { place: { ...place, name }, camera, instant: span.from }),
  ],
];

/** Line ends, controls, marks of direction, halves of characters: what may end a line or turn it round. */
const UNSEEN =
  "\u2028\u2029\u0085\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c\u0000\u0007\u001b\u007f\u009b\r\n\t\ufeff\ufffe\uffff\ud800\udfff";
const names = fc
  .array(
    fc.oneof(
      fc.constantFrom(...UNSEEN.split("")),
      fc.constantFrom("Strand", "岸", "🌅", " ", ";", ",", "|", "<b>", "&"),
    ),
    {
      minLength: 1,
      maxLength: 12,
    },
  )
  .map((parts) => `Ardvane ${parts.join("")}`);

const FORBIDDEN = /[\p{Bidi_Control}\p{Zl}\p{Zp}\p{Noncharacter_Code_Point}\p{Surrogate}\ufeff]|(?![\r\n])\p{Cc}/u;

/** The text with the lines put together again that a calendar folds. */
const unfolded = (text: string): string => text.replaceAll("\r\n ", "");
const linesOf = (text: string): number => unfolded(text).split(/[\r\n]+/).length;

async function textOf(asked: Promise<Response>): Promise<string> {
  const response = await asked;
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return text;
}

describe("characters that are not seen in a name", () => {
  it.each(FORMS)("stay out of %s", async (_, ask) => {
    const lines = linesOf(await textOf(ask("Ardvane Strand")));
    await fc.assert(
      fc.asyncProperty(names, async (name) => {
        const text = await textOf(ask(name));
        expect(FORBIDDEN.exec(unfolded(text))).toBeNull();
        expect(text).toContain("Ardvane");
        expect(linesOf(text)).toBe(lines);
      }),
      { numRuns: 25, examples: [[`Ardvane ${UNSEEN}`], ["Ardvane \u202edlrow"], ["Ardvane \u2028Strand"]] },
    );
  });

  it("are kept in JSON as they were given", async () => {
    await fc.assert(
      fc.asyncProperty(names, async (name) => {
        const told = await answer<{ place: { name: string } }>(
          post(app, "/v1/light-windows", { place: { ...place, name }, date }),
        );
        expect(told.place.name).toBe(name);
      }),
      { numRuns: 25, examples: [[`Ardvane ${UNSEEN}`]] },
    );
  });
});
