import { createTerrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, get, post, refusedFields, type TestApp, testApp } from "./harness";
import { pictureOf, plain } from "./well-formed";

const path = "/v1/light-levels";
const place = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };
const camera = { azimuthDeg: 265, pitchDeg: 4, sensor: "full-frame", focalLengthMm: 24 };
const evening = { place, camera, from: "2027-03-20T16:30:00+00:00", to: "2027-03-20T20:30:00+00:00" };
const flat = { horizon: { kind: "flat" }, stepMinutes: 10 };

type Part = "sky" | "litGround" | "openShade" | "stillWater";

interface Row {
  readonly instant: string;
  readonly directLight: boolean;
  readonly ev100: Readonly<Record<Part, number>>;
  readonly contrastStops: number;
  readonly uncertaintyStops: number;
}

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [`${import.meta.dirname}/../../demo/elevation`] }) });
});

const draw = (body: object): Promise<string> => pictureOf(post(app, `${path}.svg`, body));
const rowsOf = async (body: object): Promise<readonly Row[]> =>
  (await answer<{ rows: readonly Row[] }>(post(app, path, body))).rows;

const numbersOf = (text: string): number[] => [...text.matchAll(/-?\d+(?:\.\d+)?/g)].map(([number]) => Number(number));

/** The points of each curve of a kind [px]. */
function curvesOf(markup: string, kind: string): [number, number][][] {
  return [...markup.matchAll(new RegExp(`<path class="curve ${kind}" d="([^"]+)"`, "g"))].map(([, d]) => {
    const numbers = numbersOf(d as string);
    return Array.from({ length: numbers.length / 2 }, (_, i) => [numbers[2 * i], numbers[2 * i + 1]] as never);
  });
}

/** EV100 by height in the picture, from two of its own level lines. */
function evScale(markup: string): (y: number) => number {
  const rules = [
    ...markup.matchAll(/<line class="rule" x1="[\d.]+" x2="[\d.]+" y1="([\d.]+)" y2="\1"\/><text [^>]*>([−\d]+)</g),
  ].map(([, y, ev]) => [Number(y), Number((ev as string).replace("−", "-"))] as const);
  expect(rules.length).toBeGreaterThanOrEqual(3);
  const [[y0, ev0], [y1, ev1]] = [rules[0], rules.at(-1)] as [readonly [number, number], readonly [number, number]];
  return (y) => ev0 + ((y - y0) * (ev1 - ev0)) / (y1 - y0);
}

const timeOf = (instant: string): string => instant.slice(11, 16);
const signed = (stops: number): string => `${stops < 0 ? "−" : "+"}${Math.abs(stops).toFixed(1)}`;
const bracketsOf = (markup: string): [string, string, string][] =>
  [
    ...markup.matchAll(/<title>([\d:]{5}): the sky ([−+]?[\d.]+) stops [^<]*<\/title>.*?class="stops"[^>]*>([^<]+)</g),
  ].map(([, time, told, written]) => [time, told, written] as [string, string, string]);

describe("POST /v1/light-levels.svg", () => {
  it.each([400, 1200])("draws each row where its light is, %i px wide", async (width) => {
    const rows = await rowsOf(evening);
    const markup = await draw({ ...evening, width });
    expect(markup).toContain(`viewBox="0 0 ${width} `);
    const toEv = evScale(markup);
    for (const [kind, part] of [
      ["of-sky", "sky"],
      ["of-shade", "openShade"],
      ["of-water", "stillWater"],
    ] as const) {
      const [points = [], ...others] = curvesOf(markup, kind);
      expect(others).toEqual([]);
      expect(points).toHaveLength(rows.length);
      const [left, right] = [points[0]?.[0], points.at(-1)?.[0]] as [number, number];
      points.forEach(([x, y], i) => {
        expect(Math.abs(toEv(y) - (rows[i] as Row).ev100[part])).toBeLessThan(0.01);
        expect(Math.abs(x - left - ((right - left) * i) / (rows.length - 1))).toBeLessThan(0.02);
      });
    }
  });

  it("draws lit ground apart from shade only where a beam makes a difference", async () => {
    const rows = await rowsOf(evening);
    const markup = await draw(evening);
    const [sky = []] = curvesOf(markup, "of-sky");
    const toEv = evScale(markup);
    const drawn = curvesOf(markup, "of-lit").flat();
    const apart = rows.filter(({ ev100 }) => ev100.litGround - ev100.openShade > 0.02).length;
    // by the sun before the ridge takes it and by the moon later, with a row of shade on either side
    expect(curvesOf(markup, "of-lit")).toHaveLength(2);
    expect(drawn).toHaveLength(apart + 2);
    for (const [x, y] of drawn) {
      const row = rows[sky.findIndex(([at]) => at === x)] as Row;
      expect(Math.abs(toEv(y) - row.ev100.litGround)).toBeLessThan(0.01);
    }
  });

  it.each([
    [400, 2],
    [1200, 3],
  ])("writes the contrast as the rows have it, %i px wide", async (width, count) => {
    const rows = await rowsOf(evening);
    const markup = await draw({ ...evening, width });
    const brackets = bracketsOf(markup);
    expect(brackets).toHaveLength(count);
    for (const [time, told, written] of brackets) {
      const row = rows.find(({ instant }) => timeOf(instant) === time) as Row;
      expect([told, written]).toEqual([signed(row.contrastStops), signed(row.contrastStops)]);
    }
    const strongest = rows.reduce((a, b) => (b.contrastStops > a.contrastStops ? b : a));
    expect(markup).toContain(`at most ${signed(strongest.contrastStops)} stops, ${timeOf(strongest.instant)}`);
  });

  it("marks sunset, dusk and the end of direct light at the times of the light windows", async () => {
    const query = { latitude: place.latitude, longitude: place.longitude, date: "2027-03-20" };
    const { events } = await answer<{ events: { name: string; instant: string }[] }>(
      get(app, "/v1/light-windows", query),
    );
    const at = (name: string): string => timeOf(events.find((event) => event.name === name)?.instant as string);
    const markup = await draw(evening);
    const when = [...markup.matchAll(/class="when"[^>]*>([^<]+)</g)].map(([, text]) => text);
    expect(when).toEqual([`sunset ${at("sunset")}`, `civil dusk ${at("civil-dusk")}`]);
    const lit = (await rowsOf(evening)).filter(({ directLight }) => directLight);
    const [from, to] = [lit[0], lit.at(-1)].map((row) => timeOf((row as Row).instant));
    expect(markup).toContain(`<title>Direct light from ${from} to ${to}</title>`);
    expect(markup).toContain(`direct light ${from}–${to}`);
    // twilight lies between the two marks
    const leads = [...markup.matchAll(/<line class="moment" x1="([\d.]+)"/g)].map(([, x]) => Number(x));
    const [, x = 0, breadth = 0] = (
      /<rect class="dusk" x="([\d.]+)" [^>]*width="([\d.]+)" height/.exec(markup) ?? []
    ).map(Number);
    expect(Math.abs(x - (leads[0] as number))).toBeLessThan(0.1);
    expect(Math.abs(x + breadth - (leads[1] as number))).toBeLessThan(0.1);
  });

  it("says in words what it shows", async () => {
    const rows = await rowsOf(evening);
    const markup = await draw(evening);
    const words = plain(/<desc id="desc">([^<]+)</.exec(markup)?.[1] ?? "");
    for (const { instant, ev100, contrastStops } of [rows[0], rows[120], rows[240]] as Row[]) {
      expect(words).toContain(
        `At ${timeOf(instant)}: sky ${ev100.sky.toFixed(1)}, lit ground ${ev100.litGround.toFixed(1)}, open shade ${ev100.openShade.toFixed(1)}, still water ${ev100.stillWater.toFixed(1)} EV100, the sky ${signed(contrastStops)} stops over the ground.`,
      );
    }
    expect(words).toContain("Sunset at 18:");
    expect(words).toContain("Times of Europe/London; levels may be off by 0.5 to 1.0 stops.");
    expect(markup).toContain('<title id="title">Light at Ardvane Strand, 2027-03-20, 16:30 to 20:30</title>');
  });

  it("holds its form for polar day and night, a change of clocks, two days, two rows and a narrow sheet", async () => {
    const north = { latitude: 78.2, longitude: 15.6 };
    const ways = [
      { place: north, date: "2027-06-21" },
      { place: north, date: "2027-12-21" },
      { place, date: "2027-03-28" },
      { place, date: "2027-10-31", width: 2400 },
      { place, from: "2027-06-20T12:00:00Z", to: "2027-06-22T12:00:00Z", width: 320 },
      { place, from: "2027-06-20T12:00:00Z", to: "2027-06-20T12:10:00Z", width: 320 },
      { place, from: "2027-03-20T19:00:00Z", to: "2027-03-20T19:20:00Z" },
    ];
    const pictures = await Promise.all(ways.map((way) => draw({ ...flat, ...way })));
    expect(pictures[0]).not.toContain('class="when"');
    expect(pictures[1]).toContain("no direct light");
    // spring leaves out 01:00 to 02:00, autumn has it twice
    const hours = (markup = ""): string[] => [...markup.matchAll(/>(\d\d:00)</g)].map(([, hour]) => hour as string);
    expect(hours(pictures[2]).filter((hour) => hour === "01:00")).toHaveLength(0);
    expect(hours(pictures[3]).filter((hour) => hour === "01:00")).toHaveLength(2);
    // wholly between sunset and civil dusk
    expect(pictures[6]).toContain('<rect class="dusk" ');
  });

  it("escapes what the caller wrote", async () => {
    const name = `"><script>alert('x')</script>\u0007&amp;`;
    const markup = await draw({ ...evening, ...flat, place: { ...place, name } });
    expect(markup).toContain("&lt;script&gt;");
    expect(markup).toContain("&amp;amp;");
  });

  it("also comes from /v1/light-levels where a picture is preferred", async () => {
    const asked = { ...evening, ...flat };
    const headers = { "Content-Type": "application/json", Accept: "image/svg+xml" };
    const response = await app.request(path, { method: "POST", headers, body: JSON.stringify(asked) });
    expect(response.headers.get("Vary")).toContain("Accept");
    expect(await pictureOf(response)).toBe(await draw(asked));
  });

  it.each([
    [{ width: 100 }, "/width", 400],
    [{ width: "400" }, "/width", 400],
    [{ directions: true }, "/directions", 400],
    [{ place: { latitude: 91, longitude: 0 } }, "/place/latitude", 400],
    [{ stepMinutes: 0 }, "/stepMinutes", 400],
    [{ to: "tonight" }, "/to", 400],
    [{ to: undefined }, "/to", 400],
    [{ date: "2027-03-20" }, "/date", 400],
    [{ to: "2027-03-20T16:29:00+00:00" }, "/to", 400],
    [{ to: "2027-03-22T16:31:00+00:00" }, "/to", 422],
    [{ to: evening.from }, "/to", 422],
    [{ stepMinutes: 300 }, "/stepMinutes", 422],
  ])("refuses %j by name", async (bad, pointer, status) => {
    expect(await refusedFields(post(app, `${path}.svg`, { ...evening, ...bad }), status)).toContain(pointer);
  });
});
