import type { ServerResponse } from "node:http";
import { createGzip } from "node:zlib";
import { createTerrain } from "@fieldstop/terrain";
import { beforeEach, describe, expect, it } from "vitest";
import { hgtBytes } from "../made-tiles";
import { type Answer, TileServer } from "../tile-server";

const server = new TileServer();
const other = new TileServer();
beforeEach(() => {
  server.clear();
  other.clear();
  sent = 0;
});

const flat = hgtBytes(1201, () => 10);
const patient = { deadlineMs: 20_000, backoffMs: 5 };
const ground = async (source: string) =>
  (await createTerrain({ sources: [source], remote: patient })).groundElevationM(56.5, -9.5);

/** Bytes that an endless answer came to before it was hung up on. */
let sent = 0;
/** More than any tile is; where it is taken whole, the test ends all the same. */
const MOST_SENT = 400_000_000;

function pour(response: { write(bytes: Uint8Array): boolean; once(event: "drain", next: () => void): unknown }): void {
  const piece = new Uint8Array(262_144);
  while (sent < MOST_SENT) {
    sent += piece.length;
    if (!response.write(piece)) return void response.once("drain", () => pour(response));
  }
}

const endless: Answer = (request, response) => {
  const range = request.headers.range === undefined ? {} : { "Content-Range": "bytes 0-131071/999999999" };
  response.writeHead("Content-Range" in range ? 206 : 200, range);
  pour(response);
};
const bomb: Answer = (request, response) => {
  const range = request.headers.range === undefined ? {} : { "Content-Range": "bytes 0-131071/999999999" };
  response.writeHead("Content-Range" in range ? 206 : 200, { "Content-Encoding": "gzip", ...range });
  const packed = createGzip({ level: 1 });
  packed.pipe(response);
  response.on("close", () => packed.destroy());
  packed.on("error", () => undefined);
  pour(packed);
};

describe.each([
  ["a base URL", () => server.url, "/N56W010.hgt", 60_000_000],
  ["a GeoTIFF", () => `${server.url}/strand.tif`, "/strand.tif", 40_000_000],
  ["map tiles", () => `${server.url}/{z}/{x}/{y}.png#z=0`, "/0/0/0.png", 40_000_000],
])("%s", (_what, source, path, most) => {
  it.each([
    ["does not end", endless],
    ["is packed so that it grows without end", bomb],
  ])("hangs up on an answer that %s", async (_how, answer) => {
    server.answers.set(path, answer);
    const terrain = await createTerrain({ sources: [source()], remote: patient });
    const skyline = terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, { stepDeg: 5, radiusKm: 12 });
    await expect(skyline).rejects.toThrow(/sent more than the \d+ bytes/);
    // what lies in buffers on the way has been sent as well
    if (answer === endless) expect(sent).toBeLessThan(most);
    expect(server.asked.length).toBeLessThan(3);
  });
});

describe("a redirect", () => {
  const to =
    (location: () => string, status = 302): Answer =>
    (_request, response: ServerResponse) =>
      response.writeHead(status, { Location: location() }).end();

  it.each([301, 302, 303, 307, 308])("within the host is followed (%i)", async (status) => {
    server.answers.set(
      "/N56W010.hgt",
      to(() => "/moved.hgt", status),
    );
    server.answers.set("/moved.hgt", flat);
    expect(await ground(server.url)).toBe(10);
  });

  it("keeps to the part of the file that was asked for", async () => {
    let range: string | undefined;
    server.answers.set(
      "/strand.tif",
      to(() => "/moved.tif"),
    );
    server.answers.set("/moved.tif", (request, response) => {
      range = request.headers.range;
      response.writeHead(404).end();
    });
    await createTerrain({ sources: [`${server.url}/strand.tif`], remote: patient });
    expect(range).toBe("bytes=0-131071");
  });

  it("is followed three times, and no more", async () => {
    for (let i = 0; i < 4; i++)
      server.answers.set(
        `/N5${i + 3}W010.hgt`,
        to(() => `/N5${i + 4}W010.hgt`),
      );
    server.answers.set("/N57W010.hgt", flat);
    const terrain = await createTerrain({ sources: [server.url], remote: patient });
    expect(await terrain.groundElevationM(54.5, -9.5)).toBe(10);
    await expect(terrain.groundElevationM(53.5, -9.5)).rejects.toThrow("the remote redirected more than 3 times");
  });

  it.each([
    ["to another port of the machine", () => `${other.url}/N56W010.hgt`, "to another host"],
    [
      "to the machine by another name",
      () => `${server.url.replace("127.0.0.1", "localhost")}/inside`,
      "to another host",
    ],
    ["to an address of the link", () => "http://169.254.169.254/latest/meta-data", "to another host"],
    ["to the machine by IPv6", () => "//[::1]/inside", "to another host"],
    ["to a file", () => "file:///etc/hostname", "to another host"],
    ["to no address", () => "http://", "to no address"],
  ])("%s is refused", async (_what, location, said) => {
    server.answers.set("/N56W010.hgt", to(location));
    server.answers.set("/inside", flat);
    other.answers.set("/N56W010.hgt", flat);
    await expect(ground(server.url)).rejects.toThrow(`N56W010.hgt: the remote redirected ${said}`);
    expect(other.asked).toEqual([]);
    expect(server.asked).toEqual(["/N56W010.hgt"]);
  });
});
