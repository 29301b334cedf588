import { describe, expect, it } from "vitest";
import { answer, post, problem, refusedFields, testApp } from "./harness";

const path = "/v1/filters/graduated";
const app = testApp();
const place = { name: "Ardvane strand", latitude: 56.6, longitude: -9.4, elevationM: 2, eyeHeightM: 1.6 };
const camera = { sensor: "full-frame", focalLengthMm: 24, azimuthDeg: 200 };
const sea = { kind: "flat" } as const;
const evening = {
  place,
  instant: "2027-03-20T18:00:00+00:00",
  camera,
  horizon: sea,
  contrastStops: 5,
};
const stack = { name: "the stack", azimuthDeg: 200, altitudeDeg: 4, widthDeg: 8, heightDeg: 12 };

interface Answer {
  readonly instant: string;
  readonly kind: string;
  readonly contrastStops: number;
  readonly contrastUncertaintyStops?: number;
  readonly wantedStops: number;
  readonly filter: {
    readonly density: number;
    readonly stops: number;
    readonly transition: string;
    readonly position: number;
    readonly tiltDeg: number;
    readonly mark: string;
  } | null;
  readonly line: unknown;
  readonly darkens: readonly { readonly name: string; readonly maxStops: number }[];
  readonly reasons: readonly { readonly code: string; readonly text: string }[];
  readonly assumptions: readonly { readonly field: string }[];
}

const ask = (body: unknown) => answer<Answer>(post(app, path, body));
const codes = ({ reasons }: Answer) => reasons.map(({ code }) => code);

describe("POST /v1/filters/graduated", () => {
  it("lays a hard 1.2 along a sea horizon that is five stops brighter", async () => {
    const found = await ask(evening);
    expect(found.kind).toBe("fits");
    expect(found.filter).toMatchObject({ transition: "hard", mark: "density 1.2" });
    expect(found.filter?.density).toBeCloseTo(1.2, 9);
    expect(found.filter?.position).toBeCloseTo(0.5, 2);
    expect(found.filter?.tiltDeg).toBeCloseTo(0, 6);
    expect(codes(found)).toEqual(["contrast-asks", "skyline-straight", "sky-stays-brighter"]);
    expect(found.contrastUncertaintyStops).toBeUndefined();
  });

  it("predicts the contrast where none was metered, and says how sure it is", async () => {
    const { contrastStops: _, ...unmetered } = evening;
    const found = await ask({ ...unmetered, camera: { ...camera, azimuthDeg: 265 } });
    expect(found.contrastStops).toBeGreaterThan(0.5);
    expect(found.contrastStops).toBeLessThan(8);
    expect(found.contrastUncertaintyStops).toBeGreaterThanOrEqual(0.5);
    expect(found.assumptions.map(({ field }) => field)).toContain("reflectance");
  });

  it("says what of a stack in the sea goes dark", async () => {
    const found = await ask({ ...evening, obstacles: [stack] });
    expect(found.kind).toBe("fits-with-cost");
    expect(found.darkens[0]).toMatchObject({ name: "the stack" });
    expect(found.darkens[0]?.maxStops).toBeCloseTo(3.99, 1);
    expect(found.reasons.at(-1)?.text).toContain("the stack");
  });

  it("sends one to the bracket where half the frame stands across the line, or the ridge is too rough", async () => {
    const wall = await ask({ ...evening, obstacles: [{ ...stack, widthDeg: 45 }] });
    expect(wall.kind).toBe("does-not-fit");
    expect(codes(wall)).toContain("too-much-across-the-line");
    expect(codes(wall)).toContain("use-a-bracket");
    expect(wall.filter).toBeNull();
    const points = Array.from({ length: 36 }, (_, i) => ({ azimuthDeg: 10 * i, altitudeDeg: i % 2 === 0 ? 16 : 0 }));
    const rough = await ask({ ...evening, horizon: { kind: "profile", points } });
    expect(codes(rough)).toContain("skyline-uneven");
    expect(rough.kind).toBe("does-not-fit");
  });

  it("asks for a reverse filter where the sun lies on the horizon in the frame", async () => {
    const sunset = { ...evening, instant: "2027-03-20T18:35:00+00:00", camera: { ...camera, azimuthDeg: 270 } };
    const found = await ask(sunset);
    expect(found.filter?.transition).toBe("reverse");
    expect(codes(found)).toContain("sun-on-the-line");
  });

  it("takes from the bag alone, and needs none where the contrast is small", async () => {
    const soft = { kind: "graduated", stops: 2, transition: "soft" };
    const found = await ask({ ...evening, available: [soft] });
    expect(found.filter).toMatchObject({ stops: 2, transition: "soft", mark: "2 stops" });
    expect((await ask({ ...evening, contrastStops: 1.5 })).kind).toBe("not-needed");
  });

  it("answers 422 where the frame takes in the zenith", async () => {
    const body = { ...evening, camera: { ...camera, pitchDeg: 85 } };
    const refused = await problem(post(app, path, body), 422);
    expect(refused.errors?.[0]?.pointer).toBe("/camera/pitchDeg");
  });

  it.each([
    [{ place: undefined }, "/place"],
    [{ camera: { focalLengthMm: 24 } }, "/camera/azimuthDeg"],
    [{ contrastStops: 41 }, "/contrastStops"],
    [{ contrastStops: "much" }, "/contrastStops"],
    [{ residualStops: -1 }, "/residualStops"],
    [{ obstacles: [{ ...stack, widthDeg: 0 }] }, "/obstacles/0/widthDeg"],
    [{ obstacles: [{ ...stack, colour: "grey" }] }, "/obstacles/0/colour"],
    [{ available: [] }, "/available"],
    [{ available: [{ kind: "nd", stops: 3 }] }, "/available/0/kind"],
    [{ available: [{ kind: "graduated", transition: "hard" }] }, "/available/0"],
    [{ subject: { slopeDeg: 30 } }, "/subject/facingAzimuthDeg"],
    [{ instant: "dusk" }, "/instant"],
    [{ filters: [] }, "/filters"],
  ])("refuses %j at %s", async (change, pointer) => {
    expect(await refusedFields(post(app, path, { ...evening, ...change }))).toContain(pointer);
  });
});
