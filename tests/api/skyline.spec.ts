import { frameProjection, sunPosition } from "@fieldstop/core";
import { createTerrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, NOW, post, problem, refusedFields, type TestApp, testApp } from "./harness";
import { pictureOf } from "./well-formed";

const path = "/v1/skyline";
const place = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };
const west = { sensor: "full-frame", focalLengthMm: 24, azimuthDeg: 265, pitchDeg: 4 };
const evening = { place, camera: west, instant: "2027-03-20T18:00:00+00:00" };

interface Body {
  readonly x: number | null;
  readonly y: number | null;
  readonly inFrame: boolean;
  readonly aboveSkyline: boolean;
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
  readonly discDiameterPercent: number | null;
}

interface Frame {
  readonly instant: string;
  readonly camera: {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly rollDeg: number;
    readonly projection: string;
  };
  readonly points: readonly {
    readonly x: number;
    readonly y: number;
    readonly azimuthDeg: number;
    readonly altitudeDeg: number;
  }[];
  readonly line: { readonly tiltDeg: number; readonly maxResidualPercent: number } | null;
  readonly skyPercent: number;
  readonly sun: Body;
  readonly moon: Body & { readonly illuminatedFraction: number };
  readonly horizon: { readonly kind: string };
  readonly assumptions: readonly { readonly field: string }[];
  readonly cautions: readonly { readonly code: string }[];
}

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [`${import.meta.dirname}/../../demo/elevation`] }) });
});

const ask = (body: object): Promise<Frame> => answer<Frame>(post(app, path, body));

describe("POST /v1/skyline", () => {
  it("puts the island's skyline and the sun into the frame", async () => {
    const frame = await ask(evening);
    expect(frame.horizon.kind).toBe("terrain");
    expect(frame.points).toHaveLength(181);
    expect(frame.skyPercent).toBeGreaterThan(30);
    expect(frame.skyPercent).toBeLessThan(70);
    const sun = sunPosition(Date.parse(evening.instant), { ...place, elevationM: 2 });
    const camera = { azimuthDeg: 265, pitchDeg: 4, focalLengthMm: 24, widthMm: 36, heightMm: 24 };
    const expected = frameProjection(camera).toFrame(sun.azimuthDeg, sun.altitudeDeg);
    expect(frame.sun.x).toBeCloseTo(expected?.x as number, 6);
    expect(frame.sun.y).toBeCloseTo(expected?.y as number, 6);
    expect(frame.sun).toMatchObject({ inFrame: true, aboveSkyline: true });
    // 2·24 mm·tan 16′ of 24 mm
    expect(frame.sun.discDiameterPercent).toBeCloseTo(0.93, 1);
    expect(frame.moon.illuminatedFraction).toBeGreaterThan(0.9);
    expect(frame.cautions.map(({ code }) => code)).toEqual(["sun-through-optics"]);
  });

  it("lets the ridge take the sun at the end of direct light, not before", async () => {
    const day = await answer<{ directLight: { lastInstant: string } }>(
      post(app, "/v1/light-windows", { place, date: "2027-03-20" }),
    );
    const lastMs = Date.parse(day.directLight.lastInstant);
    const sunAt = async (ms: number) => (await ask({ ...evening, instant: new Date(ms).toISOString() })).sun;
    expect((await sunAt(lastMs - 10_000)).aboveSkyline).toBe(true);
    const gone = await sunAt(lastMs + 10_000);
    expect(gone).toMatchObject({ aboveSkyline: false, inFrame: true });
  });

  it("takes the present, a level camera and a usual one where nothing is said, and says so", async () => {
    const frame = await ask({ place, camera: { azimuthDeg: 90 } });
    expect(Date.parse(frame.instant)).toBe(Date.parse(NOW));
    expect(frame.sun).toMatchObject({ x: null, y: null, inFrame: false, discDiameterPercent: null });
    expect(frame.cautions).toEqual([]);
    const fields = frame.assumptions.map(({ field }) => field);
    for (const field of ["timeZone", "eyeHeightM", "camera.sensor", "camera.focalLengthMm", "camera.pitchDeg"]) {
      expect(fields).toContain(field);
    }
  });

  it("rolls the line against the camera, and turns the frame with the camera", async () => {
    const flat = { ...evening, horizon: { kind: "flat" } };
    const rolled = await ask({ ...flat, camera: { ...west, rollDeg: 5, orientation: "portrait" } });
    expect(rolled.line?.tiltDeg).toBeCloseTo(-5, 1);
    expect(rolled.camera).toMatchObject({ widthMm: 24, heightMm: 36, rollDeg: 5, projection: "rectilinear" });
  });

  it("bends the horizon of a tilted fisheye, and not that of a straight lens", async () => {
    const camera = { ...west, focalLengthMm: 14, pitchDeg: 15 };
    const flat = { ...evening, horizon: { kind: "flat" } };
    expect((await ask({ ...flat, camera })).line?.maxResidualPercent).toBeLessThan(0.2);
    expect(
      (await ask({ ...flat, camera: { ...camera, projection: "equidistant" } })).line?.maxResidualPercent,
    ).toBeGreaterThan(2);
  });

  it("has no line and no points where the frame is all sky", async () => {
    const frame = await ask({ ...evening, camera: { ...west, pitchDeg: 50 } });
    expect(frame).toMatchObject({ line: null, points: [], skyPercent: 100 });
  });

  it.each([
    [{ camera: {} }, "/camera/azimuthDeg"],
    [{ camera: { azimuthDeg: 400 } }, "/camera/azimuthDeg"],
    [{ camera: { ...west, rollDeg: 181 } }, "/camera/rollDeg"],
    [{ camera: { ...west, projection: "mercator" } }, "/camera/projection"],
    [{ camera: undefined }, "/camera"],
    [{ instant: "tonight" }, "/instant"],
    [{ date: "2027-03-20" }, "/date"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(post(app, path, { ...evening, ...bad }))).toContain(pointer);
    expect(await refusedFields(post(app, `${path}.svg`, { ...evening, ...bad }))).toContain(pointer);
  });

  it("has no answer for a frame that takes in the zenith", async () => {
    const { errors } = await problem(post(app, path, { ...evening, camera: { ...west, pitchDeg: 85 } }), 422);
    expect(errors?.[0]?.pointer).toBe("/camera/pitchDeg");
  });
});

describe("POST /v1/skyline.svg", () => {
  const draw = (body: object): Promise<string> => pictureOf(post(app, `${path}.svg`, body));

  it("draws the sun to scale where the answer has it", async () => {
    const { sun } = await ask(evening);
    const markup = await draw(evening);
    const [, cx, cy, r] = (/<circle class="sun" cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/.exec(markup) ?? []).map(
      Number,
    );
    const [, x, y, width, height] = (
      /<rect class="frame" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"/.exec(markup) ?? []
    ).map(Number) as [number, number, number, number, number];
    expect(cx).toBeCloseTo(x + width * (sun.x as number), 1);
    expect(cy).toBeCloseTo(y + height * (sun.y as number), 1);
    expect(r).toBeCloseTo((height * (sun.discDiameterPercent as number)) / 200, 1);
    expect(markup).toContain("sun 6.3°");
    expect(markup).toContain('class="line"');
    expect(markup).toContain("Sky fills");
  });

  it("says that the ridge hides the sun, and dashes its ring", async () => {
    const markup = await draw({ ...evening, instant: "2027-03-20T18:25:00+00:00" });
    expect(markup).toContain("hidden behind the skyline");
    expect(markup).toMatch(/<text class="onland"[^>]*>sun [\d.]+°, hidden<\/text>/);
  });

  it("holds its form for all sky, all land, a rolled and a round frame", async () => {
    for (const camera of [
      { ...west, pitchDeg: 50 },
      { ...west, pitchDeg: -50 },
      { ...west, rollDeg: 90 },
      { ...west, focalLengthMm: 10, projection: "equidistant" },
      { ...west, azimuthDeg: 0 },
    ]) {
      await draw({ ...evening, camera });
    }
  });

  it("escapes what the caller wrote", async () => {
    const markup = await draw({ ...evening, place: { ...place, name: `"><script>alert('x')</script>` } });
    expect(markup).toContain("&lt;script&gt;");
  });

  it("also comes from /v1/skyline where a picture is preferred", async () => {
    const headers = { "Content-Type": "application/json", Accept: "image/svg+xml" };
    const response = await app.request(path, { method: "POST", headers, body: JSON.stringify(evening) });
    expect(response.headers.get("Vary")).toContain("Accept");
    expect(await pictureOf(response)).toBe(await draw(evening));
  });
});
