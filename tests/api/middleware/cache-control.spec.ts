import type { Terrain } from "@fieldstop/terrain";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20&horizon=flat";
const NOW_THERE = "/v1/sun?latitude=56.6&longitude=-9.4";

describe("Cache-Control", () => {
  const app = testApp();
  it.each([
    [DAY, "public, max-age=86400, immutable"],
    ["/v1/light-windows?latitude=56.6&longitude=-9.4", "public, max-age=60"],
    [`${NOW_THERE}&instant=2027-03-20T18:00:00Z`, "public, max-age=86400, immutable"],
    [NOW_THERE, "no-store"],
    ["/v1/reference/filter-grades", "public, max-age=86400, immutable"],
    ["/openapi.json", "public, max-age=60"],
    ["/healthz", "no-store"],
    ["/v1/moonbeams", "no-store"],
    ["/v1/sun?latitude=91&longitude=0", "no-store"],
  ])("of %s is %s", async (path, expected) => {
    expect((await app.request(path)).headers.get("Cache-Control")).toBe(expected);
  });

  it("is not that of a settled day where a tile could not be read", async () => {
    const azimuthsDeg = [[0, 360]] as const;
    const withTile = (reason: "absent" | "unreadable"): Terrain => ({
      horizonAt: async () => ({
        profile: { azimuthsDeg: [0, 180], altitudesDeg: [0, 0], distancesM: [1, 1] },
        viewpoint: { latitude: 56.6, longitude: -9.4, groundElevationM: 2, eyeHeightM: 1.6 },
        skyViewFactor: 1,
        source: { name: "made up", resolutionM: 90 },
        missingTiles: [{ name: "N56W010", reason, azimuthsDeg }],
        uncertainAzimuthsDeg: [],
        refractionCoefficient: 0.13,
      }),
      highestNear: async () => null,
      groundElevationM: async () => 2,
      groundElevationsM: async () => [],
      dataVersion: "1",
    });
    const path = "/v1/horizon?latitude=56.6&longitude=-9.4";
    const controlOf = async (reason: "absent" | "unreadable", of = path) =>
      (await testApp({ terrain: withTile(reason) }).request(of)).headers.get("Cache-Control");
    expect(await controlOf("absent")).toBe("public, max-age=86400, immutable");
    expect(await controlOf("unreadable")).toBe("public, max-age=60");
    const day = DAY.replace("&horizon=flat", "");
    expect(await controlOf("absent", day)).toBe("public, max-age=86400, immutable");
    expect(await controlOf("unreadable", day)).toBe("public, max-age=60");
    const strip = day.replace("light-windows", "horizon.svg");
    expect(await controlOf("absent", strip)).toBe("public, max-age=86400, immutable");
    expect(await controlOf("unreadable", strip)).toBe("public, max-age=60");
  });
});
