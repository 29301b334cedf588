import { readdirSync, readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { buildTiles } from "../../demo/island/tiles";
import places from "../../demo/places.json";
import { atan2Deg, cosDeg, sinDeg, wrap360 } from "../../packages/core/src/angles";
import { watchEvening } from "./evening";
import { away, ELEVATION, Ground, NODES, readTile } from "./ground";

const ground = new Ground();

function place(id: string): (typeof places)[number] {
  const found = places.find((candidate) => candidate.id === id);
  if (found === undefined) throw new Error(`no place ${id}`);
  return found;
}

/** Skyline altitudes [deg] of a place, from one azimuth to another in steps. */
function skyline(id: string, from: number, to: number, step: number): { azimuthDeg: number; altitudeDeg: number }[] {
  const count = Math.round((to - from) / step) + 1;
  return Array.from({ length: count }, (_, i) => {
    const azimuthDeg = from + i * step;
    return { azimuthDeg, altitudeDeg: ground.skylineDeg(place(id), azimuthDeg) };
  });
}

const altitudes = (points: { altitudeDeg: number }[]): number[] => points.map((point) => point.altitudeDeg);

describe("the elevation tiles", () => {
  let built: Map<string, Uint8Array>;
  beforeAll(() => {
    built = buildTiles();
  });

  it("are the ones that the script makes, to the byte", () => {
    expect([...built.keys()].sort()).toEqual(readdirSync(ELEVATION).sort());
    expect(built.size).toBe(9);
    for (const [name, bytes] of built) {
      expect(Buffer.compare(readFileSync(new URL(name, ELEVATION)), bytes), name).toBe(0);
    }
  });

  it("come out the same twice", () => {
    const again = buildTiles();
    for (const [name, bytes] of built) expect(Buffer.compare(again.get(name) ?? Buffer.alloc(0), bytes), name).toBe(0);
  });

  it("stay small enough to keep in the repository", () => {
    let total = 0;
    for (const bytes of built.values()) total += bytes.length;
    expect(total).toBeLessThan(100_000);
  });

  it("hold open sea round the island, and own that they do not know where real land lies", () => {
    const counts = { sea: 0, unknown: 0, land: 0 };
    for (const name of built.keys()) {
      if (name.startsWith("N56W010")) continue;
      const tile = readTile(name.replace(".hgt.zip", ""));
      for (let i = 0; i < NODES * NODES; i++) {
        const heightM = tile.getInt16(2 * i, false);
        counts[heightM === 0 ? "sea" : heightM === -32768 ? "unknown" : "land"] += 1;
      }
    }
    // 600 rows of two tiles: north of 57.5 N and south of 55.5 N, between 9 W and 8 W
    expect(counts).toEqual({ sea: 8 * NODES * NODES - 2 * 600 * NODES, unknown: 2 * 600 * NODES, land: 0 });
  });
});

describe("the island", () => {
  it("is about 14 by 9 km in the middle of its tile, with nothing but sea at 0 m round it", () => {
    let [north, south, west, east] = [NODES, -1, NODES, -1];
    let lowest = 0;
    for (let row = 0; row < NODES; row++) {
      for (let column = 0; column < NODES; column++) {
        const heightM = ground.node(row, column);
        lowest = Math.min(lowest, heightM);
        if (heightM === 0) continue;
        north = Math.min(north, row);
        south = Math.max(south, row);
        west = Math.min(west, column);
        east = Math.max(east, column);
      }
    }
    expect(lowest).toBe(0);
    const eastWestKm = ((east - west) * 61.423) / 1200;
    const northSouthKm = ((south - north) * 111.353) / 1200;
    // with the skerries, which lie up to half a kilometre off
    expect(eastWestKm).toBeGreaterThan(13.5);
    expect(eastWestKm).toBeLessThan(15.2);
    expect(northSouthKm).toBeGreaterThan(8.5);
    expect(northSouthKm).toBeLessThan(9.8);
    expect(ground.heightM({ latitude: 56.6, longitude: -9.9 })).toBe(0);
    expect(ground.heightM({ latitude: 56.2, longitude: -9.4 })).toBe(0);
    // the bay
    expect(ground.heightM({ latitude: 56.605, longitude: -9.43 })).toBe(0);
  });

  it("rises to 502 m at the Ward, and nowhere else as high", () => {
    let highest = 1;
    let tops: string[] = [];
    for (let row = 0; row < NODES; row++) {
      for (let column = 0; column < NODES; column++) {
        const heightM = ground.node(row, column);
        if (heightM < highest) continue;
        const top = `${(57 - row / 1200).toFixed(5)} ${(-10 + column / 1200).toFixed(5)}`;
        tops = heightM === highest ? [...tops, top] : [top];
        highest = heightM;
      }
    }
    expect(highest).toBe(502);
    const { latitude, longitude } = place("ward");
    expect(tops).toEqual([`${latitude.toFixed(5)} ${longitude.toFixed(5)}`]);
  });

  it("has the Rig along its west side, between 300 and 420 m high for four kilometres, but for the Slack", () => {
    // the highest ground on each parallel between the Atlantic and the bay
    const crest: number[] = [];
    for (let row = 462; row <= 505; row++) {
      const heights = Array.from({ length: 90 }, (_, i) => ground.node(row, 600 + i));
      crest.push(Math.max(...heights));
    }
    expect(crest).toHaveLength(44);
    const slack = crest.filter((heightM) => heightM < 300);
    expect(Math.max(...crest)).toBeGreaterThan(400);
    expect(Math.max(...crest)).toBeLessThan(420);
    expect(slack.length).toBeGreaterThan(1);
    expect(slack.length).toBeLessThan(5);
    expect(Math.min(...slack)).toBeGreaterThan(200);
  });

  it("has a loch that lies level behind the strand, and a low bealach between its halves", () => {
    const { latitude, longitude } = place("loch-vane");
    const loch = [150, 250, 350].map((m) => ground.heightM(away({ latitude, longitude }, 290, m)));
    expect(loch).toEqual([7, 7, 7]);
    // along the meridian of the bealach, from the head of the bay over to the south coast
    const over = Array.from({ length: 60 }, (_, i) =>
      ground.heightM({ latitude: 56.591 - i * 0.0005, longitude: -9.427 }),
    );
    expect(Math.max(...over)).toBeLessThan(75);
  });
});

describe("places.json", () => {
  it("lists the spots once each, with their heights and their sense", () => {
    expect(places.map(({ id }) => id)).toEqual([
      "strand",
      "slack-view",
      "gannet-head",
      "ward",
      "loch-vane",
      "east-haven",
    ]);
    for (const { id, elevationM, latitude, longitude, timeZone, cameraAzimuthDeg, photographs } of places) {
      expect(Math.abs(ground.heightM({ latitude, longitude }) - elevationM), id).toBeLessThanOrEqual(0.5);
      expect(elevationM, id).toBeGreaterThan(0);
      expect(Intl.supportedValuesOf("timeZone"), id).toContain(timeZone);
      expect(cameraAzimuthDeg, id).toBeGreaterThanOrEqual(0);
      expect(cameraAzimuthDeg, id).toBeLessThan(360);
      expect(photographs.length, id).toBeGreaterThan(20);
    }
  });
});

describe("the strand", () => {
  const strand = place("strand");

  it("is a beach: low, and sloping gently down to the west-north-west", () => {
    expect(ground.heightM(strand)).toBeGreaterThan(0);
    expect(ground.heightM(strand)).toBeLessThan(8);
    const upM = ground.heightM(away(strand, 112.5, 60));
    const downM = ground.heightM(away(strand, 292.5, 60));
    const slope = (upM - downM) / 120;
    expect(slope).toBeGreaterThan(1 / 60);
    expect(slope).toBeLessThan(1 / 15);
  });

  it("has the sea to the west-north-west", () => {
    let [northward, eastward, seaward] = [0, 0, 0];
    for (let azimuthDeg = 0; azimuthDeg < 360; azimuthDeg += 1) {
      if (ground.heightM(away(strand, azimuthDeg, 400)) > 0) continue;
      northward += cosDeg(azimuthDeg);
      eastward += sinDeg(azimuthDeg);
      seaward += 1;
    }
    expect(seaward).toBeGreaterThan(120);
    const middle = wrap360(atan2Deg(eastward, northward));
    expect(middle).toBeGreaterThan(292.5 - 11.25);
    expect(middle).toBeLessThan(292.5 + 11.25);
    for (const distanceM of [200, 500, 1000, 2000]) expect(ground.heightM(away(strand, 292.5, distanceM))).toBe(0);
  });

  it("looks at the Rig from 240 to 310 degrees, and at the open sea north of it", () => {
    const rig = altitudes(skyline("strand", 240, 310, 0.25));
    expect(rig).toHaveLength(281);
    expect(Math.max(...rig)).toBeGreaterThan(5);
    expect(Math.max(...rig)).toBeLessThan(7);
    expect(Math.min(...rig)).toBeGreaterThan(2.5);
    // from 2 m and 1.6 m above the sea the dip is 0.06 degrees
    for (const altitude of altitudes(skyline("strand", 325, 345, 1))) expect(altitude).toBeCloseTo(-0.055, 2);
  });

  it("has more than 2 degrees of ridge where the sun sets at the equinox", () => {
    for (const altitude of altitudes(skyline("strand", 262, 274, 0.25))) expect(altitude).toBeGreaterThan(2);
  });

  it("sees the Slack at least 1.5 degrees below both its shoulders", () => {
    const south = Math.max(...altitudes(skyline("strand", 277, 284, 0.1)));
    const floor = Math.min(...altitudes(skyline("strand", 284, 288, 0.1)));
    const north = Math.max(...altitudes(skyline("strand", 288, 294, 0.1)));
    expect(Math.min(south, north) - floor).toBeGreaterThan(1.5);
  });

  it("loses the sun well before the almanac says, at the equinox and at midsummer", () => {
    for (const date of ["2026-03-20", "2026-06-21", "2026-09-23"]) {
      const { lit, sunset } = watchEvening(ground, strand, date);
      expect(lit, date).toHaveLength(1);
      expect(sunset - (lit[0]?.end ?? Number.NaN), date).toBeGreaterThan(20);
    }
  });

  it("gets the sun back through the Slack on certain evenings", () => {
    for (const date of ["2026-04-17", "2026-08-25"]) {
      const { lit, sunset } = watchEvening(ground, strand, date);
      expect(lit, date).toHaveLength(2);
      const [first, second] = lit as [(typeof lit)[number], (typeof lit)[number]];
      expect(second.start - first.end, date).toBeGreaterThan(3);
      expect(second.end - second.start, date).toBeGreaterThan(5);
      expect(second.end - second.start, date).toBeLessThan(16);
      expect(sunset - second.end, date).toBeGreaterThan(15);
    }
  });
});

describe("the other spots", () => {
  it("Slack View has the notch before the camera, and the sun in it at the equinoxes", () => {
    const { cameraAzimuthDeg } = place("slack-view");
    const view = skyline("slack-view", cameraAzimuthDeg - 5, cameraAzimuthDeg + 5, 0.1);
    const floor = view.reduce((low, point) => (point.altitudeDeg < low.altitudeDeg ? point : low));
    expect(Math.abs(floor.azimuthDeg - cameraAzimuthDeg)).toBeLessThan(1);
    const left = Math.max(...altitudes(view.filter(({ azimuthDeg }) => azimuthDeg < floor.azimuthDeg)));
    const right = Math.max(...altitudes(view.filter(({ azimuthDeg }) => azimuthDeg > floor.azimuthDeg)));
    expect(Math.min(left, right) - floor.altitudeDeg).toBeGreaterThan(1.5);
    for (const date of ["2026-03-21", "2026-09-21"]) {
      const { lit } = watchEvening(ground, place("slack-view"), date);
      expect(lit, date).toHaveLength(2);
      expect((lit[1]?.end ?? 0) - (lit[1]?.start ?? 0), date).toBeGreaterThan(5);
    }
  });

  it("Gannet Head stands on a cliff over the open sea, and keeps the midsummer sun to the end", () => {
    const head = place("gannet-head");
    expect(ground.heightM(head)).toBeGreaterThan(100);
    expect(ground.heightM(away(head, 300, 200))).toBe(0);
    for (const altitude of altitudes(skyline("gannet-head", 240, 350, 2))) expect(altitude).toBeLessThan(-0.4);
    const { lit, sunset } = watchEvening(ground, head, "2026-06-21");
    expect(lit).toHaveLength(1);
    // the sea's dip from up here gives some minutes more than the almanac
    expect((lit[0]?.end ?? 0) - sunset).toBeGreaterThan(3);
  });

  it("the Ward overlooks everything in the west", () => {
    for (const altitude of altitudes(skyline("ward", 220, 330, 2))) expect(altitude).toBeLessThan(-0.7);
  });

  it("Loch Vane has water before the camera and the Rig above the dunes", () => {
    const loch = place("loch-vane");
    expect(ground.heightM(away(loch, loch.cameraAzimuthDeg, 200))).toBe(7);
    expect(ground.skylineDeg(loch, loch.cameraAzimuthDeg)).toBeGreaterThan(2.5);
  });

  it("East Haven has the sea before the camera, between two points", () => {
    for (const altitude of altitudes(skyline("east-haven", 72, 124, 1))) expect(Math.abs(altitude)).toBeLessThan(0.12);
    expect(ground.skylineDeg(place("east-haven"), 50)).toBeGreaterThan(2);
    expect(ground.skylineDeg(place("east-haven"), 140)).toBeGreaterThan(2);
  });
});
