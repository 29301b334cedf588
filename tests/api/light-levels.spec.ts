import { describe, expect, it } from "vitest";
import { answer, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();
const strand = { name: "Ardvane strand", latitude: 56.6, longitude: -9.4, timeZone: "Atlantic/Reykjavik" };
const evening = {
  place: strand,
  from: "2027-03-20T17:00:00+00:00",
  to: "2027-03-20T20:00:00+00:00",
  horizon: { kind: "flat" },
  stepMinutes: 5,
};

interface Row {
  readonly instant: string;
  readonly sun: { readonly altitudeDeg: number; readonly trueAltitudeDeg: number };
  readonly moon?: { readonly illuminatedFraction: number };
  readonly directLight: boolean;
  readonly illuminanceLux: number;
  readonly ev100: Readonly<Record<"sky" | "litGround" | "openShade" | "deepShade" | "stillWater", number>>;
  readonly contrastStops: number;
  readonly stopsPerMinute: number;
  readonly directions?: readonly { readonly azimuthDeg: number; readonly contrastStops: number }[];
}

interface Levels {
  readonly from: string;
  readonly to: string;
  readonly timeZone: string;
  readonly stepMinutes: number;
  readonly skyViewFactor: number;
  readonly horizon: { readonly kind: string };
  readonly rows: readonly Row[];
  readonly assumptions: readonly { readonly field: string }[];
  readonly cautions: readonly { readonly code: string }[];
}

const levels = (body: unknown): Promise<Levels> => answer<Levels>(post(app, "/v1/light-levels", body));
const refused = (change: object, status = 400): Promise<string[]> =>
  refusedFields(post(app, "/v1/light-levels", { ...evening, ...change }), status);

describe("POST /v1/light-levels", () => {
  it("traces an evening: the sun leaves, the light falls, the sky holds out longer than the ground", async () => {
    const camera = { azimuthDeg: 270, focalLengthMm: 24, sensor: "full-frame" };
    const { rows, from, to, stepMinutes, timeZone, horizon, cautions } = await levels({ ...evening, camera });
    expect([from, to, stepMinutes, timeZone]).toEqual([evening.from, evening.to, 5, strand.timeZone]);
    expect(horizon).toEqual({ kind: "flat" });
    expect(rows).toHaveLength(37);
    expect(rows[0]?.instant).toBe(evening.from);
    expect(rows.at(-1)?.instant).toBe(evening.to);
    const lit = rows.filter(({ directLight }) => directLight);
    expect(lit.length).toBeGreaterThan(10);
    for (const { sun } of lit) expect(sun.altitudeDeg).toBeGreaterThan(-0.4);
    for (let i = 1; i < rows.length; i++) {
      const [before, now] = [rows[i - 1] as Row, rows[i] as Row];
      expect(now.illuminanceLux).toBeLessThan(before.illuminanceLux);
      expect(now.stopsPerMinute).toBeLessThan(0);
    }
    const dusk = rows.find(({ sun }) => sun.trueAltitudeDeg < -4) as Row;
    expect(dusk.contrastStops).toBeGreaterThan(3);
    expect(dusk.ev100.deepShade).toBeLessThan(dusk.ev100.openShade);
    expect(cautions.map(({ code }) => code)).toContain("sun-through-optics");
  });

  it("takes the local day where no span is given, today where no day is either", async () => {
    const { place, horizon } = evening;
    const day = await levels({ place, horizon, date: "2027-06-21", stepMinutes: 60 });
    expect(day.from).toBe("2027-06-21T00:00:00+00:00");
    expect(day.rows).toHaveLength(25);
    const today = await levels({ place, horizon, stepMinutes: 720 });
    expect(today.from).toBe("2027-03-20T00:00:00+00:00");
    // an autumn day of 25 hours
    const long = { place: { latitude: 56.6, longitude: -9.4, timeZone: "Europe/London" }, date: "2027-10-31" };
    expect((await levels({ ...long, horizon, stepMinutes: 60 })).rows).toHaveLength(26);
    // a whole day each minute is within bounds
    expect((await levels({ place, horizon, date: "2027-06-21" })).rows).toHaveLength(1441);
  });

  it("lets a ridge take the beam and part of the sky", async () => {
    const points = [
      { azimuthDeg: 0, altitudeDeg: 0 },
      { azimuthDeg: 240, altitudeDeg: 8 },
      { azimuthDeg: 300, altitudeDeg: 8 },
      { azimuthDeg: 350, altitudeDeg: 0 },
    ];
    const open = await levels(evening);
    const behind = await levels({ ...evening, horizon: { kind: "profile", points } });
    const count = ({ rows }: Levels): number => rows.filter(({ directLight }) => directLight).length;
    expect(count(behind)).toBeLessThan(count(open));
    expect(behind.skyViewFactor).toBeLessThan(1);
    expect(open.skyViewFactor).toBe(1);
    expect(behind.rows[20]?.ev100.openShade).toBeLessThan(open.rows[20]?.ev100.openShade as number);
  });

  it("dims by cloud and says that it took a clear sky where none was given", async () => {
    const clear = await levels(evening);
    const cloudy = await levels({ ...evening, sky: { cloudCover: { low: 100, middle: 0, high: 0 }, turbidity: 3 } });
    expect(cloudy.rows[0]?.illuminanceLux).toBeLessThan((clear.rows[0]?.illuminanceLux as number) / 3);
    const fields = ({ assumptions }: Levels): string[] => assumptions.map(({ field }) => field);
    expect(fields(clear)).toEqual(expect.arrayContaining(["sky.cloudCover", "sky.turbidity", "eyeHeightM"]));
    expect(fields(cloudy)).not.toContain("sky.cloudCover");
  });

  it("looks round the compass where asked", async () => {
    const { rows } = await levels({ ...evening, stepMinutes: 60, directions: true });
    expect(rows).toHaveLength(4);
    for (const { directions } of rows) {
      expect(directions).toHaveLength(24);
      const contrasts = directions?.map(({ contrastStops }) => contrastStops) ?? [];
      const highest = directions?.[contrasts.indexOf(Math.max(...contrasts))];
      expect(highest?.azimuthDeg).toBeGreaterThan(235);
      expect(highest?.azimuthDeg).toBeLessThan(300);
    }
  });

  it("lights a surface by the way it faces", async () => {
    const ground = async (subject?: object): Promise<number> =>
      (await levels({ ...evening, ...(subject === undefined ? {} : { subject }) })).rows[2]?.ev100.litGround as number;
    expect(await ground({ facingAzimuthDeg: 260 })).toBeGreaterThan((await ground()) + 1);
    expect(await ground({ facingAzimuthDeg: 80, slopeDeg: 60 })).toBeLessThan(await ground());
  });

  it.each([
    [{ sky: { cloudCover: { low: 140, middle: 0, high: 0 } } }, "/sky/cloudCover/low"],
    [{ sky: { cloudCover: { low: 10, middle: 0 } } }, "/sky/cloudCover/high"],
    [{ sky: { turbidity: 0.5 } }, "/sky/turbidity"],
    [{ stepMinutes: 0 }, "/stepMinutes"],
    [{ stepMinutes: "5" }, "/stepMinutes"],
    [{ reflectance: 2 }, "/reflectance"],
    [{ camera: { azimuthDeg: 400 } }, "/camera/azimuthDeg"],
    [{ camera: { azimuthDeg: 40, sensor: "wet-plate" } }, "/camera/sensor"],
    [{ subject: { facingAzimuthDeg: 10, latitude: 5 } }, "/subject/latitude"],
    [{ subject: { slopeDeg: 30 } }, "/subject/facingAzimuthDeg"],
    [{ from: undefined }, "/from"],
    [{ to: undefined }, "/to"],
    [{ date: "2027-03-20" }, "/date"],
    [{ to: "2027-03-20T16:00:00+00:00" }, "/to"],
    [{ from: "2027-03-20" }, "/from"],
    [{ place: { ...strand, latitude: 91 } }, "/place/latitude"],
    [{ place: undefined }, "/place"],
    [{ minutes: 5 }, "/minutes"],
  ])("refuses %j by its place in the body", async (change, pointer) => {
    expect(await refused(change)).toContain(pointer);
  });

  it("understands a span of a thousand years, or of many days, and does not begin", async () => {
    expect(await refused({ to: "3027-03-20T20:00:00+00:00" }, 422)).toEqual(["/to"]);
    expect(await refused({ from: "1900-06-01T00:00:00Z", to: "2100-06-01T00:00:00Z" }, 422)).toEqual(["/stepMinutes"]);
    const { errors } = await problem(
      post(app, "/v1/light-levels", { ...evening, to: "2027-04-20T20:00:00Z", stepMinutes: undefined }),
      422,
    );
    expect(errors).toMatchObject([{ pointer: "/to", allowed: "a span and a step that make at most 2000 rows" }]);
    expect(await refused({ directions: true, stepMinutes: 0.5 }, 422)).toEqual(["/stepMinutes"]);
  });
});
