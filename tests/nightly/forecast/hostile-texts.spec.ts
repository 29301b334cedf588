import { messageOf } from "@fieldstop/nightly/forecast/message";
import { plainText } from "@fieldstop/nightly/forecast/texts";
import { PlacesError } from "@fieldstop/nightly/places/fault";
import { parsePlaces } from "@fieldstop/nightly/places/read-places";
import { describe, expect, it } from "vitest";
import { forecastOfTheStrand } from "../support/forecast";
import { place } from "../support/place";

const HOSTILE = ["\u2028", "\u2029", "\u0085", "\u202e", "\u2066", "\r\n", "\u001b[2J", "\u0000", "\ud800", "\uffff"];

/** A places file in which one text for people is as given. */
function file(texts: { name?: string; title?: string; author?: string }): string {
  const { name = "Ardvane Strand", title = "The light on Ardvane", author = "Ardvane Camera Circle" } = texts;
  return JSON.stringify({
    channels: { feed: { kind: "atom", file: "a.atom", title, author }, cal: { kind: "ics", file: "a.ics", title } },
    places: [
      { id: "strand", name, latitude: 56.6, longitude: -9.4, timeZone: "UTC", postAt: "15:00", channels: ["feed"] },
    ],
  });
}

describe("texts that hide what they say", () => {
  it.each(HOSTILE)("are refused in a places file: %j", (hidden) => {
    for (const field of ["name", "title", "author"]) {
      expect(() => parsePlaces(file({ [field]: `Ardvane${hidden}Strand` }), "places.json")).toThrow(
        `${field}: allowed: no control characters, line ends or marks of direction`,
      );
    }
  });

  it("are no letters of any language", () => {
    const name = "Àrd Bhàn – Çıralı, 嵐山, جبل, हिमालय 🌅";
    expect(parsePlaces(file({ name }), "places.json").places[0]?.name).toBe(name);
  });

  it.each(HOSTILE)("do not come from the service to a message: %j", async (hidden) => {
    const forecast = await forecastOfTheStrand();
    const told = { ...forecast, headline: `Direct light${hidden}goes`, summary: [{ text: `Dark${hidden}ward` }] };
    const text = plainText(messageOf(place(), told as never, 0));
    expect(text).not.toContain(hidden);
    expect(text).toMatch(/^Direct light .*goes$/m);
    expect(text).toMatch(/^- Dark .*ward$/m);
  });

  it("do not come to a terminal from a name that the file made up", () => {
    const told = new PlacesError("places.yaml", [{ path: "\u001b[2Jx\u202e\r", detail: "no such field" }]).message;
    expect(told).toBe("places.yaml:  [2Jx  : no such field");
  });
});
