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

describe("ETag", () => {
  const app = testApp();
  const ask = (path: string, headers: Record<string, string> = {}, method = "GET") =>
    Promise.resolve(app.request(path, { method, headers }));

  it("is strong, and the same for the same bytes", async () => {
    const first = await ask(DAY);
    const again = await testApp().request(DAY);
    expect(first.headers.get("ETag")).toMatch(/^"[\w-]{22}"$/);
    expect(again.headers.get("ETag")).toBe(first.headers.get("ETag"));
    expect(await again.text()).toBe(await first.text());
    expect((await ask(DAY.replace("-20", "-21"))).headers.get("ETag")).not.toBe(first.headers.get("ETag"));
  });

  it("spares who has the answer its body, with the fields that a cache needs", async () => {
    const tag = (await ask(DAY)).headers.get("ETag") as string;
    for (const condition of [tag, `W/${tag}`, `"other", ${tag}`, "*"]) {
      const response = await ask(DAY, { "If-None-Match": condition });
      expect(response.status, condition).toBe(304);
      expect(await response.text()).toBe("");
      expect(response.headers.get("ETag")).toBe(tag);
      expect(response.headers.get("Cache-Control")).toBe("public, max-age=86400, immutable");
      expect(response.headers.get("Content-Type")).toBeNull();
    }
    for (const condition of ['"other"', tag.slice(1, -1), '""']) {
      expect((await ask(DAY, { "If-None-Match": condition })).status, condition).toBe(200);
    }
  });

  it("is not of what is true for a moment, nor of a POST, nor of a problem", async () => {
    expect((await ask(NOW_THERE)).headers.get("ETag")).toBeNull();
    expect((await ask("/v1/sun?latitude=91&longitude=0", { "If-None-Match": "*" })).status).toBe(400);
    const post = await app.request("/v1/exposures/solve", {
      method: "POST",
      headers: { "Content-Type": "application/json", "If-None-Match": "*" },
      body: JSON.stringify({ ev100: 12, aperture: 8, iso: 100 }),
    });
    expect(post.status).toBe(200);
    expect(post.headers.get("ETag")).toBeNull();
  });

  it("comes with HEAD as with GET", async () => {
    const [get, head] = [await ask(DAY), await ask(DAY, {}, "HEAD")];
    expect(await head.text()).toBe("");
    for (const name of ["ETag", "Cache-Control", "Content-Type"]) {
      expect(head.headers.get(name), name).toBe(get.headers.get(name));
    }
    expect(head.headers.get("Content-Length")).toBe(String((await get.arrayBuffer()).byteLength));
    const tag = get.headers.get("ETag") as string;
    expect((await ask(DAY, { "If-None-Match": tag }, "HEAD")).status).toBe(304);
  });
});
