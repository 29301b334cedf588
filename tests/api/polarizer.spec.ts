import { describe, expect, it } from "vitest";
import { answer, get, post, refusedFields, testApp } from "./harness";

const path = "/v1/filters/polarizer";
const app = testApp();
const camera = { sensor: "full-frame", focalLengthMm: 24, azimuthDeg: 0 };
const sun = { azimuthDeg: 270, altitudeDeg: 10 };
const strand = { name: "Ardvane strand", latitude: 56.6, longitude: -9.4, elevationM: 2, eyeHeightM: 1.6 };

interface Darkening {
  readonly rotationDeg: number;
  readonly meanStops: number;
  readonly minStops: number;
  readonly maxStops: number;
  readonly rangeStops: number;
  readonly cornerStops: Readonly<Record<string, number | null>>;
}

interface Answer {
  readonly instant?: string;
  readonly sun: { readonly azimuthDeg: number; readonly altitudeDeg: number };
  readonly lossStops: number;
  readonly sky: {
    readonly maxDarkening: Darkening;
    readonly maxEvenness: Darkening;
    readonly grid: readonly unknown[];
  } | null;
  readonly water: {
    readonly surface: string;
    readonly polarizingAngleDeg: number;
    readonly rotationDeg: number;
  } | null;
  readonly conflict: { readonly apartDeg: number } | null;
  readonly verdict: { readonly code: string };
  readonly warnings: readonly { readonly code: string }[];
  readonly assumptions: readonly { readonly field: string }[];
  readonly cautions: readonly { readonly code: string }[];
}

const ask = (body: unknown) => answer<Answer>(post(app, path, body));

describe("POST /v1/filters/polarizer", () => {
  it("darkens the sky most square to the sun, and warns of a wide lens", async () => {
    const { sky, water, conflict, verdict, warnings, lossStops, cautions } = await ask({ sun, camera });
    // the light swings square to the plane through the sun, here 10° off the upright; the filter is crossed with it
    expect(sky?.maxDarkening.rotationDeg).toBeGreaterThan(95);
    expect(sky?.maxDarkening.rotationDeg).toBeLessThan(105);
    expect(sky?.maxDarkening.maxStops).toBeGreaterThan(1.5);
    expect(sky?.maxDarkening.cornerStops).toMatchObject({ bottomLeft: null, bottomRight: null });
    expect(sky?.maxEvenness.rangeStops).toBeLessThan(sky?.maxDarkening.rangeStops as number);
    expect([water, conflict]).toEqual([null, null]);
    expect(verdict.code).toBe("worth-it-with-care");
    expect(warnings.map(({ code }) => code)).toEqual(["uneven-sky"]);
    expect(lossStops).toBe(1.5);
    expect(cautions.map(({ code }) => code)).toEqual(["sun-through-optics"]);
  });

  it("does little toward the sun and under an overcast", async () => {
    const toward = await ask({ sun, camera: { ...camera, azimuthDeg: 270 } });
    expect(toward.verdict.code).toBe("little-effect");
    const overcast = await ask({ sun, camera, sky: { cloudCover: { low: 100, middle: 0, high: 0 } } });
    expect(overcast.sky?.maxDarkening).toMatchObject({ rotationDeg: 0, meanStops: 0, rangeStops: 0 });
    expect(overcast.verdict.code).toBe("little-effect");
  });

  it("takes the sun of a place and an instant, behind its skyline", async () => {
    const horizon = { kind: "flat" };
    const instant = "2027-03-20T17:30:00+00:00";
    const found = await ask({ place: strand, instant, camera, horizon });
    expect(found.instant).toBe(instant);
    const { elevationM, latitude, longitude } = strand;
    const almanac = await answer<Answer["sun"]>(get(app, "/v1/sun", { latitude, longitude, elevationM, instant }));
    expect(found.sun).toEqual({ azimuthDeg: almanac.azimuthDeg, altitudeDeg: almanac.altitudeDeg });
    const given = await ask({ sun: found.sun, camera, horizon });
    expect(given.sky?.maxDarkening.meanStops).toBeCloseTo(found.sky?.maxDarkening.meanStops as number, 2);
    expect(given.instant).toBeUndefined();
  });

  it("takes now where no instant is given", async () => {
    const { instant } = await ask({ place: strand, camera, horizon: { kind: "flat" } });
    expect(Date.parse(instant as string)).toBe(Date.parse("2027-03-20T17:00:00Z"));
  });

  it("tells where sky and water want different rotations", async () => {
    const { water, conflict, warnings, assumptions } = await ask({ sun, camera, water: {} });
    expect(water).toMatchObject({ surface: "still-water", rotationDeg: 0 });
    expect(water?.polarizingAngleDeg).toBeCloseTo(53.12, 2);
    expect(conflict?.apartDeg).toBeGreaterThan(60);
    expect(warnings.map(({ code }) => code)).toContain("sky-and-water-disagree");
    expect(assumptions.map(({ field }) => field)).toContain("water.refractiveIndex");
  });

  it("has nothing to darken where a wall of land fills the frame", async () => {
    const points = [0, 90, 180, 270].map((azimuthDeg) => ({ azimuthDeg, altitudeDeg: 60 }));
    const { sky, verdict } = await ask({ sun, camera, horizon: { kind: "profile", points } });
    expect(sky).toBeNull();
    expect(verdict.code).toBe("nothing-to-darken");
  });

  it.each([
    [{ camera }, "/place"],
    [{ sun, place: strand, camera }, "/place"],
    [{ sun, instant: "2027-03-20T17:30:00Z", camera }, "/instant"],
    [{ sun, camera: { focalLengthMm: 24 } }, "/camera/azimuthDeg"],
    [{ sun, camera: { ...camera, pitchDeg: 91 } }, "/camera/pitchDeg"],
    [{ sun: { azimuthDeg: 270 }, camera }, "/sun/altitudeDeg"],
    [{ sun, camera, water: { refractiveIndex: 0.9 } }, "/water/refractiveIndex"],
    [{ sun, camera, water: { surface: "ice" } }, "/water/surface"],
    [{ sun, camera, filter: { kind: "nd", stops: 3 } }, "/filter/kind"],
    [{ sun, camera, filter: { kind: "polarizer", lossStops: 21 } }, "/filter/lossStops"],
    [{ sun, camera, sky: { turbidity: 0.5 } }, "/sky/turbidity"],
    [{ sun, camera, horizon: { kind: "terrain" } }, "/horizon/kind"],
    [{ place: strand, instant: "yesterday", camera }, "/instant"],
    [{ sun, camera, tripod: true }, "/tripod"],
  ])("refuses %j at %s", async (body, pointer) => {
    expect(await refusedFields(post(app, path, body))).toContain(pointer);
  });
});

describe("POST /v1/outings/plan, a polarizer in the bag", () => {
  it("says at each moment what the polarizer does, and nothing where none is packed", async () => {
    const evening = {
      place: strand,
      date: "2027-03-20",
      session: "evening",
      camera: { ...camera, azimuthDeg: 200 },
      horizon: { kind: "flat" },
    };
    type Plan = { readonly moments: readonly { readonly polarizer?: Darkening & Pick<Answer, "verdict"> }[] };
    const packed = await answer<Plan>(post(app, "/v1/outings/plan", { ...evening, filters: [{ kind: "polarizer" }] }));
    expect(packed.moments.length).toBeGreaterThan(2);
    for (const { polarizer } of packed.moments) {
      expect(polarizer?.meanStops).toBeGreaterThan(0.5);
      expect(polarizer?.verdict.code).toMatch(/^worth-it/);
    }
    const bare = await answer<Plan>(post(app, "/v1/outings/plan", evening));
    expect(bare.moments.some(({ polarizer }) => polarizer !== undefined)).toBe(false);
  });
});
