import { once } from "node:events";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { ServiceOutage } from "@fieldstop/nightly/forecast/forecast-source";
import { fromService } from "@fieldstop/nightly/forecast/from-service";
import { parsePlaces } from "@fieldstop/nightly/places/read-places";
import { afterEach, describe, expect, it } from "vitest";
import { testApp } from "../../api/harness";
import { type RunningServer, startServer } from "../../sdk/server";
import { place } from "../support/place";
import { StandInService } from "../support/stand-in-service";

const never = new AbortController().signal;
const running: { close(): Promise<void> }[] = [];
afterEach(async () => {
  await Promise.all(running.splice(0).map((server) => server.close()));
});

async function real(): Promise<RunningServer> {
  const server = await startServer(testApp());
  running.push(server);
  return server;
}

async function standIn(cutShort?: () => number | undefined): Promise<StandInService> {
  const service = await StandInService.start(cutShort, 20);
  running.push({ close: () => service.stop() });
  return service;
}

const wanted = (count: number) =>
  Array.from({ length: count }, (_, index) => ({ place: place({ id: `spot-${index}` }), date: "2027-03-20" }));

describe("forecasts of a service", () => {
  it("come for every field that a places file may have", async () => {
    const { places } = parsePlaces(
      `channels: { console: { kind: console } }
places:
  - id: strand
    name: Ardvane Strand
    latitude: 56.6
    longitude: -9.4
    elevationM: 2
    eyeHeightM: 1.8
    timeZone: Europe/London
    postAt: "15:00"
    session: morning
    camera: { sensor: full-frame, focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 90, pitchDeg: 2, orientation: portrait, headroomStops: 3, footroomStops: 6, dynamicRangeIso: 100 }
    filters: [{ kind: nd, stops: 6 }, { kind: graduated, density: 0.9, transition: soft }, { kind: polarizer, lossStops: 1.5 }]
    subject: { facingAzimuthDeg: 90, slopeDeg: 80 }
    channels: [console]
`,
      "places.yaml",
    );
    const source = fromService({ baseUrl: (await real()).baseUrl });
    const made = [];
    for await (const one of source.make([{ place: places[0] as never, date: "2027-03-21" }], never)) made.push(one);
    expect(made).toHaveLength(1);
    expect(made[0]).toMatchObject({ forecast: { date: "2027-03-21", session: "morning", timeZone: "Europe/London" } });
  });

  it("are refused one by one, each with the field at fault", async () => {
    const source = fromService({ baseUrl: (await real()).baseUrl });
    const bad = { place: place({ id: "bad", camera: { aperture: -5 } }), date: "2027-03-20" };
    const made = new Map<string, object>();
    for await (const one of source.make([...wanted(1), bad], never)) made.set(one.wanted.place.id, one);
    expect(made.get("spot-0")).toHaveProperty("forecast");
    expect(made.get("bad")).toMatchObject({ refused: expect.stringContaining("/camera/aperture") });
  });

  it("are refused place by place where the service refuses the whole request, as without its key", async () => {
    const locked = await startServer(testApp({}, { policies: { apiKeys: { holderOf: () => undefined } } }));
    running.push(locked);
    const made = [];
    for await (const one of fromService({ baseUrl: locked.baseUrl }).make(wanted(2), never)) made.push(one);
    const refused = expect.stringContaining("This service asks for a key.");
    expect(made).toEqual(
      wanted(2).map(({ place: { id } }) => ({
        wanted: expect.objectContaining({ place: expect.objectContaining({ id }) }),
        refused,
      })),
    );
  });

  it.each([404, 425, 429, 500, 503])("are an outage where something before the service answers %i", async (status) => {
    const before = createServer((_, response) => response.writeHead(status).end("<html>")).listen(0, "127.0.0.1");
    running.push({ close: async () => void before.close() });
    await once(before, "listening");
    const { port } = before.address() as AddressInfo;
    const all = async () => {
      for await (const _ of fromService({ baseUrl: `http://127.0.0.1:${port}` }).make(wanted(1), never)) expect.fail();
    };
    await expect(all()).rejects.toThrow(ServiceOutage);
  });

  it("that break off bring what there was, then tell of the outage", async () => {
    const service = await standIn(() => 3);
    const got: string[] = [];
    const all = async () => {
      for await (const one of fromService({ baseUrl: service.baseUrl }).make(wanted(5), never))
        got.push(one.wanted.place.id);
    };
    await expect(all()).rejects.toThrow(ServiceOutage);
    // what was still on its way when the connection broke is lost with it
    expect(got.length).toBeGreaterThan(0);
    expect(got).toEqual(["spot-0", "spot-1", "spot-2"].slice(0, got.length));
  });

  it("are an outage where nobody listens", async () => {
    const service = await standIn();
    const { baseUrl } = service;
    await running.splice(0)[0]?.close();
    const all = async () => {
      for await (const _ of fromService({ baseUrl }).make(wanted(1), never)) expect.fail();
    };
    await expect(all()).rejects.toThrow("ECONNREFUSED");
  });

  it("end with the runner's own stop, which is no outage", async () => {
    const service = await standIn();
    const stop = new AbortController();
    stop.abort(new Error("stopped"));
    const all = async () => {
      for await (const _ of fromService({ baseUrl: service.baseUrl }).make(wanted(1), stop.signal)) expect.fail();
    };
    await expect(all()).rejects.toThrow("stopped");
  });
});
