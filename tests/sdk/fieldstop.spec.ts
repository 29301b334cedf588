import {
  createFieldstop,
  createFieldstopClient,
  type FieldstopProblem,
  getSunPosition,
  isProblem,
} from "@fieldstop/sdk";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "./server";

let server: RunningServer;
const app = testApp();
beforeAll(async () => {
  server = await startServer(app);
});
afterAll(() => server.close());

const strand = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };

describe("the SDK against a running server", () => {
  it("asks by query and gets a typed answer", async () => {
    const { sky } = createFieldstop({ baseUrl: server.baseUrl });
    const sun = await sky.getSunPosition({ ...strand, instant: "2027-03-20T18:00:00Z" });
    expect(sun.instant).toBe("2027-03-20T18:00:00+00:00");
    expect(sun.azimuthDeg).toBeGreaterThan(255);
    expect(sun.cautions[0]?.code).toBe("sun-through-optics");
  });

  it.each([undefined, 8787, "fieldstop.example", "127.0.0.1:8787", "ftp://fieldstop.example"])(
    "says at once that %s is no address to ask",
    (baseUrl) => {
      expect(() => createFieldstop({ baseUrl: baseUrl as string })).toThrow(/^baseUrl is .*; it must begin with/);
    },
  );

  it.each(["", "/light/", "https://fieldstop.example/light"])("takes %j, of which a page can ask", (baseUrl) => {
    expect(() => createFieldstop({ baseUrl })).not.toThrow();
  });

  it("asks by body, with a skyline of one's own", async () => {
    const { light } = createFieldstop({ baseUrl: `${server.baseUrl}/` });
    const points = [
      { azimuthDeg: 0, altitudeDeg: 0 },
      { azimuthDeg: 230, altitudeDeg: 0 },
      { azimuthDeg: 240, altitudeDeg: 6 },
      { azimuthDeg: 300, altitudeDeg: 6 },
      { azimuthDeg: 310, altitudeDeg: 0 },
    ];
    const day = await light.findLightWindowsFromBody({
      place: strand,
      date: "2027-03-20",
      horizon: { kind: "profile", points },
    });
    const sunset = day.events.find(({ name }) => name === "sunset");
    expect(Date.parse(day.directLight.lastInstant as string)).toBeLessThan(
      Date.parse(sunset?.instant as string) - 20 * 60_000,
    );
    expect(day.directLight.intervals.at(-1)?.endCause).toBe("terrain");
  });

  it("has each operation as a function of its own", async () => {
    const client = createFieldstopClient({ baseUrl: server.baseUrl });
    const sun = await getSunPosition({ client, query: strand });
    expect(sun.timeZone).toBe("Etc/UTC");
  });

  it("throws the service's problem, with the field that is at fault", async () => {
    const { sky } = createFieldstop({ baseUrl: server.baseUrl });
    const error: unknown = await sky.getSunPosition({ latitude: 91, longitude: 0 }).catch((caught: unknown) => caught);
    expect(isProblem(error)).toBe(true);
    const problem = error as FieldstopProblem;
    expect(problem).toMatchObject({ status: 400, type: "/problems/invalid-input", instance: "/v1/sun" });
    expect(problem.errors[0]).toMatchObject({ pointer: "query:latitude", received: "91" });
    expect(problem.requestId).toMatch(/\S/);
  });

  it("offers every operation of the contract, under its own name", async () => {
    const contract = (await (await fetch(`${server.baseUrl}/openapi.json`)).json()) as {
      paths: Record<string, Record<string, { operationId: string }>>;
    };
    const inContract = Object.values(contract.paths).flatMap((path) => Object.values(path).map((o) => o.operationId));
    const face = createFieldstop({ baseUrl: server.baseUrl });
    const offered = Object.values(face).flatMap((subject) => Object.keys(subject));
    expect(offered.sort()).toEqual(inContract.sort());
  });
});
