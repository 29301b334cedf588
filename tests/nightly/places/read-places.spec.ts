import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { PlacesError } from "@fieldstop/nightly/places/fault";
import { parsePlaces, readPlaces } from "@fieldstop/nightly/places/read-places";
import { describe, expect, it } from "vitest";
import spots from "../../../demo/places.json" with { type: "json" };

const GOOD = `channels:
  hook: { kind: webhook, url: "https://ardvane.example/night", secretEnv: ARDVANE_SECRET }
kits:
  coast: { camera: { focalLengthMm: 24, aperture: 11 }, filters: [{ kind: nd, stops: 6 }] }
defaults: { timeZone: Europe/London, postAt: "15:00", channels: [hook], kit: coast }
places:
  - id: strand
    latitude: 56.6
    longitude: -9.4
    camera: { azimuthDeg: 290 }
`;

function faultsOf(text: string): string[] {
  try {
    parsePlaces(text, "places.yaml");
  } catch (error) {
    if (error instanceof PlacesError) return error.message.split("\n");
    throw error;
  }
  return [];
}

describe("a places file", () => {
  it("fills in its defaults and kits", () => {
    const { places, channels, retry } = parsePlaces(GOOD, "/somewhere/places.yaml");
    expect(places).toEqual([
      {
        id: "strand",
        latitude: 56.6,
        longitude: -9.4,
        timeZone: "Europe/London",
        postAt: "15:00",
        session: "evening",
        leadDays: 0,
        camera: { focalLengthMm: 24, aperture: 11, azimuthDeg: 290 },
        filters: [{ kind: "nd", stops: 6 }],
        channels: ["hook"],
      },
    ]);
    expect(channels["hook"]).toMatchObject({ kind: "webhook", timeoutSeconds: 15, detail: "summary" });
    expect(retry).toEqual({ attempts: 10, baseMs: 5000, longestMs: 900_000 });
  });

  it("may be JSON", () => {
    const { places } = parsePlaces(
      JSON.stringify({
        channels: { console: { kind: "console" } },
        places: [
          {
            id: "a",
            latitude: 1,
            longitude: 2,
            timeZone: "UTC",
            postAt: "09:00",
            session: "morning",
            channels: ["console"],
          },
        ],
      }),
      "places.json",
    );
    expect(places[0]).toMatchObject({ id: "a", session: "morning", leadDays: 1 });
  });

  it("finds files of channels from its own folder", () => {
    const text = GOOD.replace(/hook: \{.*\}/, "hook: { kind: atom, file: out/night.atom }");
    expect(parsePlaces(text, "/srv/club/places.yaml").channels["hook"]).toMatchObject({
      file: "/srv/club/out/night.atom",
    });
  });

  it.each([
    [
      "an unknown field of a place",
      GOOD.replace("latitude: 56.6", "latitude: 56.6\n    lattitude: 5"),
      "places.yaml:9: places.0.lattitude: no such field",
    ],
    ["an unknown field at the top", `${GOOD}colour: red\n`, "places.yaml:11: colour: no such field"],
    [
      "an unknown field of a channel",
      GOOD.replace("secretEnv:", "token: x, secretEnv:"),
      "places.yaml:2: channels.hook.token: no such field",
    ],
    [
      "a secret written into the file",
      GOOD.replace("ARDVANE_SECRET", "whsec_abc"),
      "places.yaml:2: channels.hook.secretEnv: ",
    ],
    [
      "a channel that is not there",
      GOOD.replace("[hook]", "[hoook]"),
      'places.yaml:5: defaults.channels.0: no channel is named "hoook"; there are: hook',
    ],
    [
      "a kit that is not there",
      GOOD.replace("kit: coast", "kit: hills"),
      'places.yaml:5: defaults.kit: no kit is named "hills"; there are: coast',
    ],
    ["a latitude past the pole", GOOD.replace("56.6", "96.6"), "places.yaml:8: places.0.latitude: "],
    [
      "a zone that is none",
      GOOD.replace("Europe/London", "Europe/Ardvane"),
      "places.yaml:5: defaults.timeZone: allowed: an IANA time zone, such as Europe/London",
    ],
    ["an hour without quotes", GOOD.replace('"15:00"', "25:00"), "places.yaml:5: defaults.postAt: "],
    [
      "no hour at all",
      GOOD.replace('postAt: "15:00", ', ""),
      "places.yaml:7: places.0: postAt is missing, and defaults has none",
    ],
    [
      "the same id twice",
      `${GOOD}  - { id: strand, latitude: 1, longitude: 2 }\n`,
      'places.yaml:11: places.1.id: "strand" is places.0 already',
    ],
    ["a name with a slash", GOOD.replace("id: strand", "id: a/b"), "places.yaml:7: places.0.id: allowed: "],
    [
      "two targets",
      GOOD.replace("secretEnv:", "urlEnv: X, secretEnv:"),
      "places.yaml:2: channels.hook: allowed: exactly one of url and urlEnv",
    ],
    [
      "a scheme that is not the web's",
      GOOD.replace("https:", "file:"),
      "places.yaml:2: channels.hook.url: allowed: an http or https URL",
    ],
    ["broken YAML", GOOD.replace("places:", "places"), "places.yaml:"],
  ])("is refused for %s, with the line", (_, text, expected) => {
    expect(faultsOf(text).join("\n")).toContain(expected);
  });

  it("tells all its faults at once", () => {
    expect(faultsOf(GOOD.replace("56.6", "96.6").replace("-9.4", "-999"))).toHaveLength(2);
  });

  it("says so where it cannot be read", async () => {
    await expect(readPlaces("/nowhere/places.yaml")).rejects.toThrow("/nowhere/places.yaml: cannot be read (ENOENT)");
  });
});

describe("the demo's places", () => {
  it("are the spots of the island", async () => {
    const file = fileURLToPath(new URL("../../../demo/nightly.yaml", import.meta.url));
    const { places } = await readPlaces(file);
    const told = places.map(({ id, name, latitude, longitude, elevationM, timeZone, session, camera }) => {
      return {
        id,
        name,
        latitude,
        longitude,
        elevationM,
        timeZone,
        part: session,
        cameraAzimuthDeg: camera.azimuthDeg,
      };
    });
    expect(told).toEqual(spots.map(({ photographs: _, ...spot }) => spot));
    expect(readFileSync(file, "utf8")).not.toContain("whsec_");
  });
});

describe("a places file that means ill", () => {
  const told = (text: string): string => {
    try {
      parsePlaces(text, "places.yaml");
    } catch (error) {
      expect(error).toBeInstanceOf(PlacesError);
      return (error as PlacesError).message;
    }
    throw new Error("nothing was refused");
  };

  it("is refused in a sentence where its aliases unfold without end", () => {
    const rows = [..."abcdefgh"].map((name, index) => {
      const before = index === 0 ? "x" : `*${"abcdefgh"[index - 1]}`;
      return `${name}: &${name} [${Array(9).fill(before).join(", ")}]`;
    });
    expect(told(rows.join("\n"))).toContain("Excessive alias count");
  });

  it("is refused in a sentence where it is nested without end", () => {
    expect(told("[".repeat(100_000))).toContain("Maximum call stack size exceeded");
  });

  it("is told of by its first hundred faults, in a time that grows with its length", () => {
    const text = Array.from({ length: 20_000 }, (_, index) => `key-${index}: 1`).join("\n");
    const startMs = performance.now();
    const sentences = told(text).split("\n");
    // the square of so many keys took most of a minute
    expect(performance.now() - startMs).toBeLessThan(20_000);
    expect(sentences).toHaveLength(101);
    expect(sentences.at(-1)).toMatch(/^and \d+ more$/);
  });

  it("is refused by line where a key comes twice", () => {
    expect(told("channels: {}\nplaces: []\nchannels: {}\n")).toBe("places.yaml:3: channels: this key comes twice");
  });

  it("is refused where it is no file", async () => {
    await expect(readPlaces(tmpdir())).rejects.toThrow("is no plain file");
    const pipe = join(await mkdtemp(join(tmpdir(), "nightly-places-")), "pipe");
    execFileSync("mkfifo", [pipe]);
    await expect(readPlaces(pipe)).rejects.toThrow("is no plain file");
  });
});
