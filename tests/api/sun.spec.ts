import { describe, expect, it } from "vitest";
import { answer, get, NOW, problem, refusedFields, testApp } from "./harness";

const app = testApp();
const strand = { latitude: 56.6, longitude: -9.4 };

describe("GET /v1/sun", () => {
  // Reda & Andreas 2008, NREL/TP-560-34302, worked example: topocentric zenith angle 50.11162°, azimuth 194.34024°
  it("answers the published worked example", async () => {
    const sun = await answer(
      get(app, "/v1/sun", {
        latitude: 39.742476,
        longitude: -105.1786,
        elevationM: 1830.14,
        timeZone: "America/Phoenix",
        instant: "2003-10-17T12:30:30-07:00",
      }),
    );
    expect(sun["instant"]).toBe("2003-10-17T12:30:30-07:00");
    expect(sun["azimuthDeg"]).toBeCloseTo(194.34024, 2);
    expect(sun["trueAltitudeDeg"]).toBeCloseTo(39.872, 2);
    expect(sun["altitudeDeg"]).toBeGreaterThan(sun["trueAltitudeDeg"] as number);
  });

  it("takes the present where no instant is given, in the zone of the place, and says that it looked it up", async () => {
    const sun = await answer(get(app, "/v1/sun", strand));
    expect(Date.parse(sun["instant"] as string)).toBe(Date.parse(NOW));
    expect(sun["assumptions"]).toContainEqual(expect.objectContaining({ field: "timeZone", value: sun["timeZone"] }));
    expect(sun["cautions"]).toContainEqual(expect.objectContaining({ code: "sun-through-optics" }));
  });

  it("says that it took the place to lie at sea level, unless its height is told", async () => {
    const elevations = async (told: Record<string, number>) => {
      const { assumptions } = await answer(get(app, "/v1/sun", { ...strand, ...told }));
      return (assumptions as { field: string }[]).filter(({ field }) => field === "elevationM");
    };
    expect(await elevations({})).toEqual([{ field: "elevationM", value: 0, why: expect.stringMatching(/sea level/) }]);
    expect(await elevations({ elevationM: 4 })).toEqual([]);
  });

  it.each([
    [{ latitude: 91 }, "query:latitude"],
    [{ latitude: "NaN" }, "query:latitude"],
    [{ longitude: "Infinity" }, "query:longitude"],
    [{ longitude: "" }, "query:longitude"],
    [{ latitude: "0x10" }, "query:latitude"],
    [{ latitud: 5 }, "query:latitud"],
    [{ instant: "2027-02-30T00:00:00Z" }, "query:instant"],
    [{ instant: "tomorrow" }, "query:instant"],
    [{ timeZone: "Ardvane/Strand" }, "query:timeZone"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(
      await refusedFields(get(app, "/v1/sun", { ...strand, ...(bad as Record<string, string | number>) })),
    ).toContain(pointer);
  });

  it("says how a plus sign is written, where one in an offset became a space", async () => {
    const at = (instant: string) => app.request(`/v1/sun?latitude=56.6&longitude=-9.4&instant=${instant}`);
    const { detail, errors } = await problem(at("2027-03-20T18:00:00+01:00"), 400);
    expect(detail).toContain("%2B");
    expect(errors?.[0]?.detail).toContain("%2B");
    expect((await at("2027-03-20T18:00:00%2B01:00")).status).toBe(200);
    expect((await problem(at("2027-03-20"), 400)).detail).not.toContain("%2B");
  });

  it("says which field is missing, what came and what is allowed", async () => {
    expect(await refusedFields(get(app, "/v1/sun", { longitude: 1 }))).toEqual(["query:latitude"]);
    const text = await problem(get(app, "/v1/sun", { ...strand, latitude: "NaN" }), 400);
    expect(text.errors?.[0]).toMatchObject({ received: "NaN", allowed: "a decimal number from -90 to 90" });
    const { errors } = await problem(get(app, "/v1/sun", { ...strand, latitude: 91 }), 400);
    expect(errors?.[0]).toMatchObject({ received: "91", allowed: "at most 90" });
  });

  it("understands a year out of range, and has no answer", async () => {
    const { type, errors } = await problem(get(app, "/v1/sun", { ...strand, instant: "1850-01-01T00:00:00Z" }), 422);
    expect(type).toBe("/problems/impossible");
    expect(errors?.[0]).toMatchObject({ pointer: "query:instant", allowed: "years 1900 to 2100" });
  });
});
