import { stationDatabase } from "@fieldstop/api/tides/station-database";
import { describe, expect, it } from "vitest";
import { answer, testApp } from "../harness";

const stations = stationDatabase();

/** IANA: Beirut's clocks leave out the first hour of 27 March 2022, so that day begins at 22:00 UTC. */
const ZONE = "Asia/Beirut";
const MIDNIGHT_MS = Date.UTC(2022, 2, 26, 22);

/** What tells of today where no date is given: path and accepted type. */
const OF_TODAY: readonly (readonly [string, string?])[] = [
  ["/v1/light-windows"],
  ["/v1/light-windows", "text/calendar"],
  ["/v1/light-windows.svg"],
  ["/v1/light-windows.ics"],
  ["/v1/horizon.svg"],
  ["/v1/tides"],
  ["/v1/forecast"],
  ["/v1/forecast", "text/plain"],
  ["/v1/forecast.svg"],
  ["/v1/forecast.ics"],
  ["/v1/forecast.md"],
  ["/v1/forecast.txt"],
];

function appAt(nowMs: () => number) {
  return testApp({ nowMs, tides: stations });
}

async function controlOf(app: ReturnType<typeof testApp>, path: string, accept?: string, query = "") {
  const where = `?latitude=48.4&longitude=-4.5&timeZone=${ZONE}${query}`;
  const response = await app.request(path + where, accept === undefined ? {} : { headers: { Accept: accept } });
  expect(response.status, await response.clone().text()).toBe(200);
  return response.headers.get("Cache-Control");
}

describe("an answer of today", () => {
  it.each(OF_TODAY)("holds no longer than the day does at the place: %s %s", async (path, accept) => {
    const at = (leftMs: number, query = "") => {
      const app = appAt(() => MIDNIGHT_MS - leftMs);
      return controlOf(app, path as string, accept, query);
    };
    expect(await at(3_600_000)).toBe("public, max-age=60");
    expect(await at(60_999)).toBe("public, max-age=60");
    expect(await at(20_400)).toBe("public, max-age=20");
    expect(await at(400)).toBe("public, max-age=0");
    expect(await at(20_400, "&date=2022-03-26")).toMatch(/^public, max-age=(60|86400, immutable)$/);
    expect(await at(20_400, "&date=2022-03-20")).toMatch(/^public, max-age=(60|86400, immutable)$/);
  });

  it("is all that takes a date and is asked by GET", async () => {
    const { paths } = await answer<{ paths: Record<string, { get?: { parameters?: { name: string }[] } }> }>(
      testApp().request("/openapi.json"),
    );
    const dated = Object.entries(paths).filter(([, { get }]) => get?.parameters?.some(({ name }) => name === "date"));
    expect(dated.map(([path]) => path).sort()).toEqual([...new Set(OF_TODAY.map(([path]) => path))].sort());
  });

  it("is made anew after midnight, by the service's own copies too", async () => {
    let nowMs = MIDNIGHT_MS - 20_000;
    const app = appAt(() => nowMs);
    const ask = () => app.request(`/v1/light-windows?latitude=48.4&longitude=-4.5&timeZone=${ZONE}`);
    const dateOf = async () => (await answer(ask()))["date"];
    expect(await dateOf()).toBe("2022-03-26");
    nowMs += 19_000;
    expect((await ask()).headers.get("Age")).toBe("19");
    nowMs += 1_000;
    expect(await dateOf()).toBe("2022-03-27");
    expect((await ask()).headers.get("Cache-Control")).toBe("public, max-age=60");
  });

  it("may have been overtaken by midnight while it was made", async () => {
    // the present is asked for more than once: for the day, and when the answer is done
    let asked = 0;
    const app = appAt(() => MIDNIGHT_MS + (asked++ === 0 ? -5 : 5));
    expect(await controlOf(app, "/v1/light-windows")).toBe("public, max-age=0");
  });
});
