import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, post, problem, refusedFields, type TestApp, testApp } from "./harness";

const demo = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
const path = "/v1/outings/plan";

interface Plan {
  readonly place: { readonly elevationM: number };
  readonly arriveBy: string;
  readonly stayUntil: string;
  readonly light: {
    readonly directLight: { readonly lastInstant: string; readonly minutesLostToTerrain: number };
    readonly horizon: { readonly kind: string; readonly source?: string };
    readonly events: readonly { readonly name: string; readonly instant: string }[];
  };
  readonly moments: readonly {
    readonly name: string;
    readonly instant: string;
    readonly approach: { readonly kind: string };
  }[];
  readonly assumptions: readonly { readonly field: string }[];
}

const evening = {
  place: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 },
  date: "2027-03-20",
  session: "evening",
  camera: { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
};

let app: TestApp;
beforeAll(async () => {
  app = testApp({ terrain: await createTerrain({ sources: [demo] }) });
});

describe("POST /v1/outings/plan", () => {
  it("plans an evening over the demo island, where the ridge takes the sun", async () => {
    const plan = await answer<Plan>(post(app, path, evening));
    expect(plan.light.horizon.kind).toBe("terrain");
    const sunset = plan.light.events.find(({ name }) => name === "sunset")?.instant as string;
    expect(Date.parse(sunset) - Date.parse(plan.light.directLight.lastInstant)).toBeGreaterThan(20 * 60_000);
    expect(plan.light.directLight.minutesLostToTerrain).toBeGreaterThan(20);
    expect(plan.place.elevationM).toBe(2);
    expect(plan.moments.map(({ name }) => name)).toContain("last-direct-light");
    expect(Date.parse(plan.arriveBy)).toBeLessThan(Date.parse(plan.moments[0]?.instant as string));
  });

  it("takes today at the place where no day is given", async () => {
    const { date: _, ...today } = evening;
    expect((await answer<{ date: string }>(post(app, path, today)))["date"]).toBe("2027-03-20");
  });

  it("takes the sea for the horizon where it has no elevation data, and says so", async () => {
    const plan = await answer<Plan>(post(app, path, { ...evening, place: { latitude: 10, longitude: 20 } }));
    expect(plan.light.horizon.kind).toBe("flat");
    expect(plan.assumptions).toContainEqual(expect.objectContaining({ field: "horizon", value: "flat" }));
  });

  it("answers the same to the byte each time", async () => {
    const [first, second] = await Promise.all([post(app, path, evening), post(app, path, evening)]);
    expect(await first.text()).toBe(await second.text());
  });

  it.each([
    [{ place: { latitude: 91, longitude: 0 } }, "/place/latitude"],
    [{ place: { latitude: "NaN", longitude: 0 } }, "/place/latitude"],
    [{ date: "2027-02-30" }, "/date"],
    [{ session: "noon" }, "/session"],
    [{ camera: { aperture: 0 } }, "/camera/aperture"],
    [{ camera: { sensor: "postage-stamp" } }, "/camera/sensor"],
    [{ camera: { sensor: { widthMm: 36 } } }, "/camera/sensor/heightMm"],
    [{ filters: [{ kind: "fog" }] }, "/filters/0/kind"],
    [{ filters: [{ kind: "nd", stops: 6, density: 1.8 }] }, "/filters/0"],
    [{ sky: { cloudCover: { low: 140, middle: 0, high: 0 } } }, "/sky/cloudCover/low"],
    [{ tripod: true }, "/tripod"],
    [{ horizon: { kind: "profile", points: [{ azimuthDeg: 1, altitudeDeg: 2 }] } }, "/horizon/points"],
    [
      {
        horizon: {
          kind: "profile",
          points: [
            { azimuthDeg: 10, altitudeDeg: 2 },
            { azimuthDeg: 10, altitudeDeg: 3 },
          ],
        },
      },
      "/horizon/points/1/azimuthDeg",
    ],
    [{ session: { from: "2027-03-20T17:00:00", to: "2027-03-20T18:00:00Z" } }, "/session/from"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(post(app, path, { ...evening, ...bad }))).toContain(pointer);
  });

  it("names what is missing", async () => {
    expect(await refusedFields(post(app, path, {}))).toEqual(["/place", "/session", "/camera"]);
  });

  it("understands what cannot be, and has no answer", async () => {
    expect(await refusedFields(post(app, path, { ...evening, date: "1850-01-01" }), 422)).toEqual(["/date"]);
    const backwards = { from: "2027-03-20T18:00:00Z", to: "2027-03-20T17:00:00Z" };
    expect(await refusedFields(post(app, path, { ...evening, session: backwards }), 422)).toEqual(["/session/to"]);
  });
});

describe("bodies", () => {
  const send = (body: string, type?: string) =>
    Promise.resolve(
      app.request(path, { method: "POST", body, ...(type === undefined ? {} : { headers: { "Content-Type": type } }) }),
    );

  it("that are no JSON are told apart from fields that are wrong", async () => {
    expect((await problem(send('{"place": NaN}', "application/json"), 400)).type).toBe("/problems/malformed-request");
    expect((await problem(send("", "application/json"), 400)).type).toBe("/problems/malformed-request");
    expect((await problem(send("[1]", "application/json"), 400)).type).toBe("/problems/invalid-input");
  });

  it("of another type are refused as such", async () => {
    await problem(send("{}", "text/plain"), 415);
    await problem(app.request(path, { method: "POST" }), 415);
  });

  it("that are too large are refused before they are read", async () => {
    await problem(send(`{"name": "${"x".repeat(300_000)}"}`, "application/json"), 413);
  });

  it("may hold numbers too large for a double, and are refused by name", async () => {
    const body = JSON.stringify(evening).replace("56.6", "1e999");
    expect(await refusedFields(send(body, "application/json; charset=utf-8"))).toEqual(["/place/latitude"]);
  });
});
