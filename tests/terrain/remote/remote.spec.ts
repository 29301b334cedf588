import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { createTerrain, type TerrainSettings } from "@fieldstop/terrain";
import { encode } from "fast-png";
import { gzipSync, zipSync } from "fflate";
import { writeArrayBuffer } from "geotiff";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { DiskStore } from "../../../packages/terrain/src/tiles/disk-store";
import { hgtBytes, temporaryFolder } from "../made-tiles";
import { badAnswers, TileServer } from "../tile-server";

const server = new TileServer();
beforeEach(() => server.clear());

/** In a corner, so that a short look reaches the neighbour to the north only. */
const BELOW_THE_EDGE = { latitude: 56.95, longitude: -9.5 };
const NEAR = { stepDeg: 5, radiusKm: 12 };
const flat = hgtBytes(1201, () => 10);
const ridge = hgtBytes(1201, (row) => (row === 1150 ? 900 : 10));
const patient = { deadlineMs: 20_000, backoffMs: 5, restMs: 5 };
/** Only where the remote says nothing is there a deadline to wait for. */
const patienceWith = (what: string) => (what === "nothing at all" ? { ...patient, deadlineMs: 2000 } : patient);
const open = (source: string, settings: Partial<TerrainSettings> = {}) =>
  createTerrain({ sources: [source], remote: patient, ...settings });

describe("a base URL of .hgt tiles", () => {
  it.each([
    ["in the other byte order", () => Buffer.from(hgtBytes(1201, (row) => 300 + (row % 200))).swap16(), /byte order/],
    ["of a size that no tile has", () => new Uint8Array(1201 * 1200 * 2), /bytes of heights/],
  ])("names a tile %s, takes it for no sea, and asks again next time", async (_what, bytes, said) => {
    server.answers.set("/N56W010.hgt", flat);
    server.answers.set("/N57W010.hgt", bytes());
    const terrain = await open(server.url);
    const before = await terrain.horizonAt(BELOW_THE_EDGE, NEAR);
    expect(before?.missingTiles).toMatchObject([{ name: "N57W010.hgt", reason: "unreadable" }]);
    expect(before?.missingTiles[0]?.detail).toMatch(said);
    expect(before?.uncertainAzimuthsDeg.length).toBeGreaterThan(0);
    await expect(terrain.groundElevationM(57.5, -9.5)).rejects.toThrow(said);
    server.answers.set("/N57W010.hgt", ridge);
    expect((await terrain.horizonAt(BELOW_THE_EDGE, NEAR))?.missingTiles).toEqual([]);
  });

  it.each([
    ["N56W010.hgt", flat],
    ["N56W010.hgt.gz", gzipSync(flat)],
    ["N56W010.hgt.zip", zipSync({ "N56W010.hgt": flat })],
    ["N56/N56W010.hgt.gz", gzipSync(flat)],
  ])("finds %s by its name, and knows what is not there", async (name, bytes) => {
    server.answers.set(`/srtm/${name}?key=1`, bytes);
    const terrain = await open(`${server.url}/srtm/?key=1`);
    expect(server.asked).toEqual([]);
    expect(await terrain.groundElevationM(56.5, -9.5)).toBeCloseTo(10, 6);
    const horizon = await terrain.horizonAt(BELOW_THE_EDGE, NEAR);
    expect(horizon?.missingTiles).toEqual([
      { name: "N57W010", reason: "absent", azimuthsDeg: horizon?.uncertainAzimuthsDeg },
    ]);
    expect(horizon?.source.name).toBe("SRTM tiles (.hgt)");
    const asked = server.asked.length;
    expect(await terrain.groundElevationM(57.5, -9.5)).toBeNull();
    expect(await terrain.horizonAt({ latitude: 57.5, longitude: -9.5 }, NEAR)).toBeNull();
    expect(server.asked).toHaveLength(asked);
  });

  it("asks once for those who ask together, and first by the name that served last", async () => {
    server.answers.set("/N56W010.hgt.gz", gzipSync(flat));
    server.answers.set("/N57W010.hgt.gz", gzipSync(ridge));
    const terrain = await open(server.url);
    const ask = () => terrain.groundElevationM(56.5, -9.5);
    expect(await Promise.all([ask(), ask(), ask()])).toHaveLength(3);
    expect(server.asked).toEqual(["/N56W010.hgt", "/N56W010.hgt.gz"]);
    const horizon = await terrain.horizonAt(BELOW_THE_EDGE, NEAR);
    expect(server.asked.slice(2)).toEqual(["/N57W010.hgt.gz"]);
    expect(horizon?.profile.altitudesDeg[0]).toBeGreaterThan(4);
    expect(horizon?.missingTiles).toEqual([]);
  });

  it.each(badAnswers)(
    "names a tile for which the remote answers %s, and asks again next time",
    async (what, answer, said) => {
      server.answers.set("/N56W010.hgt", flat);
      server.answers.set("/N57W010.hgt", answer);
      const terrain = await open(server.url, { remote: patienceWith(what) });
      const before = await terrain.horizonAt(BELOW_THE_EDGE, NEAR);
      expect(before?.profile.altitudesDeg).toHaveLength(72);
      expect(before?.missingTiles).toEqual([
        {
          name: "N57W010.hgt",
          reason: "unreadable",
          detail: expect.stringMatching(said),
          azimuthsDeg: before?.uncertainAzimuthsDeg,
        },
      ]);
      expect(JSON.stringify(before?.missingTiles)).not.toContain("127.0.0.1");
      server.answers.set("/N57W010.hgt", ridge);
      const after = await terrain.horizonAt(BELOW_THE_EDGE, NEAR);
      expect(after?.missingTiles).toEqual([]);
      expect(after?.profile.altitudesDeg[0]).toBeGreaterThan(4);
    },
  );

  it("tries again at once where a fault may pass, and not where it will not", async () => {
    let tries = 0;
    server.answers.set("/N56W010.hgt", (_request, response) => {
      if (++tries < 3) response.writeHead(503).end();
      else response.end(flat);
    });
    server.answers.set("/N57W010.hgt", (_request, response) => response.writeHead(403).end());
    const terrain = await open(server.url);
    expect(await terrain.groundElevationM(56.5, -9.5)).toBeCloseTo(10, 6);
    expect(tries).toBe(3);
    await expect(terrain.groundElevationM(57.5, -9.5)).rejects.toThrow("N57W010.hgt: the remote answered 403");
    expect(server.asked.filter((path) => path.startsWith("/N57"))).toHaveLength(1);
  });

  it("names a remote that is not there at all", async () => {
    const terrain = await open("http://127.0.0.1:9");
    await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow("N56W010.hgt: the connection failed");
  });

  it("never asks for more than so many at once", async () => {
    let open8 = 0;
    let most = 0;
    const slow = (_request: unknown, response: { end(bytes: Uint8Array): void }) => {
      most = Math.max(most, ++open8);
      setTimeout(() => {
        open8--;
        response.end(flat);
      }, 20);
    };
    for (let i = 0; i < 9; i++) server.answers.set(`/N0${i}E010.hgt`, slow);
    const terrain = await open(server.url, { remote: { concurrency: 3 } });
    await Promise.all(Array.from({ length: 9 }, (_, i) => terrain.groundElevationM(i + 0.5, 10.5)));
    expect(most).toBe(3);
  });

  it("answers from the cache where it was asked before, and fetches afresh what is damaged there", async () => {
    server.answers.set("/N56W010.hgt", flat);
    const folder = temporaryFolder();
    const cache = { folder, maxMb: 10 };
    expect(await (await open(server.url, { cache })).groundElevationM(56.5, -9.5)).toBeCloseTo(10, 6);
    const kept = new DiskStore(cache);
    const isKept = async () => Buffer.from((await kept.get(`${server.url}/N56W010.hgt`)) ?? []).equals(flat);
    await expect.poll(isKept, { timeout: 10_000 }).toBe(true);
    server.clear();
    expect(await (await open(server.url, { cache })).groundElevationM(56.5, -9.5)).toBeCloseTo(10, 6);
    expect(server.asked).toEqual([]);
  });
});

describe("what came from a remote", () => {
  const MONTH_MS = 31 * 24 * 3_600_000;
  const raised = hgtBytes(1201, () => 50);

  it("is asked for anew after a month, and goes on counting where the remote cannot be had then", async () => {
    server.answers.set("/N56W010.hgt", flat);
    const cache = { folder: temporaryFolder(), maxMb: 10 };
    const groundNow = async () => (await open(server.url, { cache })).groundElevationM(56.5, -9.5);
    expect(await groundNow()).toBe(10);
    const kept = new DiskStore(cache);
    const holds = async () => ((await kept.get(`${server.url}/N56W010.hgt`)) ?? [])[1];
    await expect.poll(holds, { timeout: 10_000 }).toBe(10);
    server.answers.set("/N56W010.hgt", raised);
    expect(await groundNow()).toBe(10);
    const now = vi.spyOn(Date, "now").mockReturnValue(Date.now() + MONTH_MS);
    try {
      server.answers.set("/N56W010.hgt", (_request, response) => response.writeHead(403).end());
      expect(await groundNow()).toBe(10);
      server.answers.set("/N56W010.hgt", raised);
      expect(await groundNow()).toBe(50);
      await expect.poll(holds, { timeout: 10_000 }).toBe(50);
    } finally {
      now.mockRestore();
    }
  });

  it("makes skylines that count for a month", async () => {
    server.answers.set("/N56W010.hgt", flat);
    const entries = new Map<string, Uint8Array>();
    const horizonStore = {
      get: async (key: string) => entries.get(key) ?? null,
      set: async (key: string, bytes: Uint8Array) => void entries.set(key, bytes),
      delete: async (key: string) => void entries.delete(key),
    };
    const ask = async () => {
      const terrain = await open(server.url, { horizonStore });
      const horizon = await terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, NEAR);
      return horizon?.viewpoint.groundElevationM;
    };
    expect(await ask()).toBe(10);
    server.answers.set("/N56W010.hgt", raised);
    expect(await ask()).toBe(10);
    const now = vi.spyOn(Date, "now").mockReturnValue(Date.now() + MONTH_MS);
    try {
      expect(await ask()).toBe(50);
    } finally {
      now.mockRestore();
    }
  });
});

describe("a GeoTIFF under a URL", () => {
  const step = 1 / 600;
  const bytes = new Uint8Array(
    writeArrayBuffer(
      Float32Array.from({ length: 360_000 }, (_, i) => Math.floor(i / 600)),
      {
        width: 600,
        height: 600,
        ModelPixelScale: [step, step, 0],
        ModelTiepoint: [0, 0, 0, -10, 57, 0],
        GTModelTypeGeoKey: 2,
        GeographicTypeGeoKey: 4326,
        GTRasterTypeGeoKey: 1,
      },
    ),
  );

  it("is read in parts", async () => {
    server.answers.set("/dem/strand.tif", bytes);
    const terrain = await open(`${server.url}/dem/strand.tif`);
    const header = server.asked.length;
    expect(header).toBeLessThanOrEqual(2);
    expect(await terrain.groundElevationM(57 - 100.5 * step, -9.5)).toBeCloseTo(100, 3);
    expect(server.asked.length).toBeGreaterThan(header);
    expect(new Set(server.asked)).toEqual(new Set(["/dem/strand.tif"]));
    expect(server.asked.length).toBeLessThanOrEqual(Math.ceil(bytes.length / 131_072) + 1);
  });

  it.each(badAnswers)(
    "lets the service start where the remote answers %s, and finds its place later",
    async (what, answer, said) => {
      server.answers.set("/dem/strand.tif", answer);
      const folder = temporaryFolder();
      writeFileSync(join(folder, "N56W009.hgt"), flat);
      const terrain = await createTerrain({
        sources: [`${server.url}/dem/strand.tif`, folder],
        remote: patienceWith(what),
      });
      const beside = await terrain.horizonAt({ latitude: 56.5, longitude: -8.5 }, NEAR);
      expect(beside?.missingTiles).toEqual([
        { name: "strand.tif", reason: "unreadable", detail: expect.stringMatching(said), azimuthsDeg: [[0, 360]] },
      ]);
      await expect(terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, NEAR)).rejects.toThrow(said);
      server.answers.set("/dem/strand.tif", bytes);
      // the place is looked for beside the request where that takes long
      const again = () => terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, NEAR).catch(() => null);
      await expect.poll(async () => (await again())?.missingTiles, { timeout: 10_000 }).toEqual([]);
    },
  );

  it("names the part that breaks while it is read", async () => {
    server.answers.set("/dem/strand.tif", bytes);
    const terrain = await open(`${server.url}/dem/strand.tif`);
    server.answers.set("/dem/strand.tif", (_request, response) => response.writeHead(500).end());
    await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow(/strand\.tif: .*500/);
    server.answers.set("/dem/strand.tif", bytes);
    // parts asked for before may still be failing
    const ask = () => terrain.groundElevationM(57 - 100.5 * step, -9.5).catch(() => Number.NaN);
    await expect.poll(ask, { timeout: 10_000 }).toBeCloseTo(100, 3);
  });
});

describe("map tiles of coded heights", () => {
  const z = 10;
  /** Ground whose height tells latitude and longitude, so that a tile out of place shows. */
  const heightAt = (latitude: number, longitude: number) => 100 + (latitude - 56) * 500 + (longitude + 10) * 300;
  const png = (x: number, y: number, height = heightAt, wide = 2 ** z) => {
    const data = new Uint8Array(256 * 256 * 3);
    for (let row = 0; row < 256; row++) {
      const turn = Math.PI * (1 - (2 * (y + (row + 0.5) / 256)) / wide);
      const latitude = (Math.atan(Math.sinh(turn)) * 180) / Math.PI;
      for (let column = 0; column < 256; column++) {
        const coded = height(latitude, ((x + (column + 0.5) / 256) / wide) * 360 - 180) + 32_768;
        data.set([coded >> 8, Math.floor(coded) & 255, Math.floor((coded % 1) * 256)], 3 * (row * 256 + column));
      }
    }
    return encode({ width: 256, height: 256, channels: 3, depth: 8, data });
  };
  /** All tiles over 56 to 57° N, 10 to 9° W. */
  const tiles = Array.from({ length: 4 * 9 }, (_, i) => [483 + (i % 4), 310 + Math.floor(i / 4)] as const);
  const all = new Map(tiles.map(([x, y]) => [`${z}/${x}/${y}.png`, png(x, y)]));
  const serve = () => {
    for (const [name, bytes] of all) server.answers.set(`/${name}`, bytes);
  };
  const template = () => `${server.url}/{z}/{x}/{y}.png#z=12`;

  it("put together to ground that is where it was", async () => {
    serve();
    const terrain = await open(template());
    for (const [latitude, longitude] of [
      [56.001, -9.999],
      [56.5, -9.5],
      [56.999, -9.001],
      [56.37, -9.72],
    ] as const) {
      const ground = await terrain.groundElevationM(latitude, longitude);
      // a 256th of a metre of coding
      expect(Math.abs((ground ?? 0) - heightAt(latitude, longitude))).toBeLessThan(0.01);
    }
    const horizon = await terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, { stepDeg: 5, radiusKm: 20 });
    expect(horizon?.source).toEqual({ name: "RGB elevation tiles (terrarium)", resolutionM: 84 });
    expect(horizon?.missingTiles).toEqual([]);
  });

  it("are read from a folder as well", async () => {
    const folder = temporaryFolder();
    for (const [name, bytes] of all) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), bytes);
    }
    const terrain = await open(folder);
    expect(Math.abs(((await terrain.groundElevationM(56.37, -9.72)) ?? 0) - heightAt(56.37, -9.72))).toBeLessThan(0.01);
    expect(await terrain.groundElevationM(10.5, 10.5)).toBeNull();
  });

  it("have the sea's surface for its floor, unless they hold no depths", async () => {
    for (const [x, y] of tiles)
      server.answers.set(
        `/${z}/${x}/${y}.png`,
        png(x, y, () => -80),
      );
    expect(await (await open(template())).groundElevationM(56.5, -9.5)).toBe(0);
    expect(await (await open(`${template()}&depths=no`)).groundElevationM(56.5, -9.5)).toBeCloseTo(-80, 6);
  });

  it.each(badAnswers)("are named where the remote answers %s, and asked for again", async (what, answer, said) => {
    serve();
    const bad = `${z}/484/313.png`;
    server.answers.set(`/${bad}`, answer);
    const folder = temporaryFolder();
    writeFileSync(join(folder, "N56W009.hgt"), flat);
    const terrain = await createTerrain({ sources: [folder, template()], remote: patienceWith(what) });
    const ask = () => terrain.horizonAt({ latitude: 56.5, longitude: -8.95 }, NEAR);
    const before = await ask();
    expect(before?.missingTiles).toEqual([
      {
        name: bad,
        reason: "unreadable",
        detail: expect.stringMatching(said),
        azimuthsDeg: before?.uncertainAzimuthsDeg,
      },
    ]);
    serve();
    // tiles asked for beside the bad one may still be failing
    await expect.poll(async () => (await ask())?.missingTiles, { timeout: 10_000 }).toEqual([]);
  });

  describe("whose deepest zoom nobody told", () => {
    /** Tiles at zooms 6 to 8 over 55 to 58° N, 11 to 8° W: 600 m from sample to sample at best. */
    const coarse = [6, 7, 8].flatMap((zoom) => {
      const scale = 2 ** (8 - zoom);
      const [left, right, top, bottom] = [119, 122, 76, 80].map((n) => Math.floor(n / scale)) as [number, ...number[]];
      const across = (right as number) - left + 1;
      const count = across * ((bottom as number) - (top as number) + 1);
      return Array.from({ length: count }, (_, i) => {
        const [x, y] = [left + (i % across), (top as number) + Math.floor(i / across)];
        return [`/${zoom}/${x}/${y}.png`, png(x, y, heightAt, 2 ** zoom)] as const;
      });
    });
    const serveCoarse = () => {
      for (const [path, bytes] of coarse) server.answers.set(path, bytes);
    };
    const zoomsAsked = () => [...new Set(server.asked.map((path) => Number(path.split("/")[1])))];
    const untold = () => `${server.url}/{z}/{x}/{y}.png`;

    it("are taken at the zoom that suits where they are there", async () => {
      serve();
      expect(await (await open(untold())).groundElevationM(56.37, -9.72)).toBeCloseTo(heightAt(56.37, -9.72), 1);
      expect(zoomsAsked()).toEqual([z]);
    });

    it("are found at the deepest that answers, and sought next to it in the cells beside", async () => {
      serveCoarse();
      const terrain = await open(untold());
      expect(await terrain.groundElevationM(56.5, -9.5)).toBeCloseTo(heightAt(56.5, -9.5), 0);
      expect(zoomsAsked()).toEqual([10, 8, 9]);
      expect(server.asked.length).toBeLessThan(60);
      server.asked.length = 0;
      expect(await terrain.groundElevationM(56.5, -8.5)).toBeCloseTo(heightAt(56.5, -8.5), 0);
      expect(zoomsAsked()).toEqual([9, 8]);
    });

    it("are remembered with the tiles, so that nothing is asked again", async () => {
      serveCoarse();
      const cache = { folder: temporaryFolder(), maxMb: 10 };
      await (await open(untold(), { cache })).groundElevationM(56.5, -9.5);
      const kept = new DiskStore(cache);
      await expect.poll(() => kept.get(`deepest zoom ${untold()} N56W010`), { timeout: 10_000 }).not.toBeNull();
      const used = coarse.map(([path]) => path).filter((path) => server.asked.includes(path));
      for (const path of used) {
        await expect.poll(() => kept.get(`${server.url}${path}`), { timeout: 10_000 }).not.toBeNull();
      }
      server.clear();
      expect(await (await open(untold(), { cache })).groundElevationM(56.5, -9.5)).toBeCloseTo(heightAt(56.5, -9.5), 0);
      expect(server.asked).toEqual([]);
    });

    it("are not taken for coarser than they are because of a fault that passes", async () => {
      serveCoarse();
      server.answers.set("/10/484/313.png", (_request, response) => response.writeHead(500).end());
      const cache = { folder: temporaryFolder(), maxMb: 10 };
      const terrain = await open(untold(), { cache });
      await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow("10/484/313.png: the remote answered 500");
      expect(await new DiskStore(cache).get(`deepest zoom ${untold()} N56W010`)).toBeNull();
      serve();
      await expect
        .poll(() => terrain.groundElevationM(56.37, -9.72).catch(() => null), { timeout: 10_000 })
        .toBeCloseTo(heightAt(56.37, -9.72), 1);
      expect(zoomsAsked()).toEqual([z]);
    });

    it("are no ground where only the whole world's overview is there", async () => {
      server.answers.set(
        "/0/0/0.png",
        png(0, 0, () => 0, 1),
      );
      expect(await (await open(untold())).groundElevationM(56.5, -9.5)).toBeNull();
    });
  });

  it.each(["#z=ten", "#zoom=3", "#z=99", "#z=3&depths=perhaps"])(
    "stop the start with %s in their address",
    async (end) => {
      await expect(open(`${server.url}/{z}/{x}/{y}.png${end}`)).rejects.toThrow("FIELDSTOP_ELEVATION");
    },
  );
});

it.each(["http://", "https://tiles.invalid/{z}/{x}.png"])("stops at the address %s", async (address) => {
  await expect(open(address)).rejects.toThrow("FIELDSTOP_ELEVATION");
});
