import { type DirectLightRequest, directLight, findLightWindows } from "@fieldstop/core/light";
import { refractionDeg, sunPosition, sunTrack } from "@fieldstop/core/sky";
import { Body, Equator, Horizon, Observer } from "astronomy-engine";
import { seeded } from "../tests/accuracy/errors";
import { limbScan, scanEdges } from "../tests/core/light/limb-scan";

/**
 * What a year of days costs at one place under a skyline with nodes at 0.25°: when the sun shines directly, and all the light of the day, against a scan of
 * the same year in steps of a minute, timed in turns with it; the scan of the limb alone is what a plain program would do, and finds edges to a minute at best.
 * Then whether cost grows with the number of days and no faster: days each by themselves, and one span of many.
 */
const ROUNDS = 9;
const DAYS = 365;
const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const place = { latitude: 56.6, longitude: -9.4 };
const firstMs = Date.UTC(2027, 0, 1);

const random = seeded(5);
const azimuthsDeg = Array.from({ length: 1440 }, (_, i) => i / 4);
const altitudesDeg = azimuthsDeg.map(
  (azimuth) => 3 + 2 * Math.sin(azimuth / 20) + Math.sin(azimuth * 1.3) + 0.5 * random(),
);
const profile = { azimuthsDeg, altitudesDeg };

const dates = Array.from({ length: DAYS }, (_, i) => new Date(firstMs + i * DAY_MS).toISOString().slice(0, 10));
let edges = 0;
let sink = 0;

function requestFor(startMs: number, days: number): DirectLightRequest {
  const endMs = startMs + days * DAY_MS;
  return { track: sunTrack(startMs, endMs, place), startMs, endMs, profile, almanacAltitudeDeg: 0 };
}

const works = {
  "scan each minute": () => {
    edges = 0;
    for (let day = 0; day < DAYS; day++) {
      const request = requestFor(firstMs + day * DAY_MS, 1);
      edges += scanEdges(limbScan(request, MINUTE_MS)).length;
    }
  },
  "scan each minute, by sunPosition": () => {
    for (let day = 0; day < DAYS; day++) {
      const request = { ...requestFor(firstMs + day * DAY_MS, 1), track: (ms: number) => sunPosition(ms, place) };
      sink += scanEdges(limbScan(request, MINUTE_MS)).length;
    }
  },
  "directLight, 365 days": () => {
    for (let day = 0; day < DAYS; day++) {
      sink += directLight(requestFor(firstMs + day * DAY_MS, 1)).intervals.length;
    }
  },
  "directLight, one span of 365 days": () => {
    sink += directLight(requestFor(firstMs, DAYS)).intervals.length;
  },
  "findLightWindows, 365 days": () => {
    for (const date of dates) {
      sink += findLightWindows({ place, date, timeZone: "Etc/UTC", horizon: { kind: "profile", profile } }).events
        .length;
    }
  },
};

function milliseconds(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1] as number;

/** Medians of works that are timed in turns, after rounds that count for nothing. */
function inTurns<Name extends string>(timed: Readonly<Record<Name, () => void>>): Record<Name, number> {
  const names = Object.keys(timed) as Name[];
  const times = new Map(names.map((name) => [name, [] as number[]]));
  for (let round = -3; round < ROUNDS; round++) {
    for (const name of names) {
      const measured = milliseconds(timed[name]);
      if (round >= 0) times.get(name)?.push(measured);
    }
  }
  return Object.fromEntries(names.map((name) => [name, median(times.get(name) ?? [])])) as Record<Name, number>;
}

const year = inTurns(works);
const scanMs = year["scan each minute"];
for (const [name, ms] of Object.entries(year)) {
  console.log(
    `${name.padEnd(36)} ${ms.toFixed(1).padStart(8)} ms   ${(scanMs / ms).toFixed(1).padStart(6)} × the scan's speed`,
  );
}
console.log(`\nedges that the scan sees: ${edges}`);

// edges to a second, as directLight has them, by plain steps; a week stands for the year, and is repeated where it is quick, so that
// clearing away what the scan leaves behind is not counted there
const REPEATS = 50;
const week = inTurns({
  scan: () => {
    sink += scanEdges(limbScan(requestFor(firstMs, 7), 1000)).length;
  },
  directLight: () => {
    for (let i = 0; i < REPEATS; i++) sink += directLight(requestFor(firstMs, 7)).intervals.length;
  },
});
const quickMs = week.directLight / REPEATS;
console.log(
  `a week to the second: scan ${week.scan.toFixed(1)} ms, directLight ${quickMs.toFixed(2)} ms, ${(week.scan / quickMs).toFixed(0)} × the scan's speed`,
);

// the same minutes by an independent ephemeris, called each time, as a program without tracks of its own would
const reference = new Observer(place.latitude, place.longitude, 0);
function referenceSun(ms: number) {
  const date = new Date(ms);
  const { ra, dec } = Equator(Body.Sun, date, reference, true, true);
  const { azimuth, altitude } = Horizon(date, reference, ra, dec);
  return { azimuthDeg: azimuth, trueAltitudeDeg: altitude, altitudeDeg: altitude + refractionDeg(altitude) };
}
const days = dates.slice(0, 7);
const plain = inTurns({
  scan: () => {
    sink += scanEdges(limbScan({ ...requestFor(firstMs, 7), track: referenceSun }, MINUTE_MS)).length;
  },
  findLightWindows: () => {
    for (let i = 0; i < REPEATS; i++) {
      for (const date of days) {
        sink += findLightWindows({ place, date, timeZone: "Etc/UTC", horizon: { kind: "profile", profile } }).events
          .length;
      }
    }
  },
});
const windowsMs = plain.findLightWindows / REPEATS;
console.log(
  `a week to the minute by astronomy-engine: scan ${plain.scan.toFixed(1)} ms, findLightWindows ${windowsMs.toFixed(2)} ms, ${(plain.scan / windowsMs).toFixed(0)} × the scan's speed`,
);

const spans = inTurns({
  "1 day": () => {
    sink += directLight(requestFor(firstMs, 1)).intervals.length;
  },
  "10 days": () => {
    sink += directLight(requestFor(firstMs, 10)).intervals.length;
  },
  "100 days": () => {
    sink += directLight(requestFor(firstMs, 100)).intervals.length;
  },
  "1000 days": () => {
    sink += directLight(requestFor(firstMs, 1000)).intervals.length;
  },
});
console.log("\ndirectLight over one span        ms   ms a day");
for (const [name, ms] of Object.entries(spans)) {
  const perDay = ms / Number.parseInt(name, 10);
  console.log(`${name.padEnd(24)} ${ms.toFixed(2).padStart(10)} ${perDay.toFixed(4).padStart(10)}`);
}
if (!Number.isFinite(sink)) throw new Error("an answer was not a number");
