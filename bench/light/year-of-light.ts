import { type DirectLightRequest, directLight, findLightWindows, type LightWindows } from "@fieldstop/core/light";
import { moonPosition, moonTrack, refractionDeg, sunPosition, sunTrack } from "@fieldstop/core/sky";
import { Body, Equator, Horizon, Observer } from "astronomy-engine";
import { seeded } from "../../tests/accuracy/errors";
import { limbScan, scanEdges } from "../../tests/core/light/limb-scan";
import { median } from "../../tests/median";
import { type Ephemeris, minuteScan } from "./minute-scan";

/**
 * What a year of days costs at one place under a skyline with nodes at 0.25°.
 *
 * All the light of each day: findLightWindows, whose instants hold to a second, against a scan that finds the same things from where sun and moon stand
 * each minute. The scan asks for those three ways: each time anew by this package's own positions, as a plain program would; each time by an independent
 * ephemeris library; and along this package's own tracks, which were made for such scans. Its edges are laid against those of findLightWindows, so that
 * it is seen how well each finds them.
 *
 * Direct light alone: directLight against a scan of the limb over the skyline, to the minute and to the second.
 *
 * Whether cost grows with the number of days and no faster: days each by themselves, and one span of many. All are timed in turns.
 */
const ROUNDS = 9;
const DAYS = 365;
const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const EYE_HEIGHT_M = 1.6;
const place = { latitude: 56.6, longitude: -9.4 };
const firstMs = Date.UTC(2027, 0, 1);

const random = seeded(5);
const azimuthsDeg = Array.from({ length: 1440 }, (_, i) => i / 4);
const altitudesDeg = azimuthsDeg.map(
  (azimuth) => 3 + 2 * Math.sin(azimuth / 20) + Math.sin(azimuth * 1.3) + 0.5 * random(),
);
const profile = { azimuthsDeg, altitudesDeg };

const days = Array.from({ length: DAYS }, (_, i) => firstMs + i * DAY_MS);
// days throughout the year, for what takes too long to be done for all of them
const someDays = days.filter((_, i) => i % 30 === 0);
let sink = 0;

const dateOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);
const dates = new Map(days.map((ms) => [ms, dateOf(ms)]));

function lightOf(startMs: number): LightWindows {
  const date = dates.get(startMs) as string;
  return findLightWindows({ place, date, timeZone: "Etc/UTC", horizon: { kind: "profile", profile } });
}

function requestFor(startMs: number, span: number): DirectLightRequest {
  const endMs = startMs + span * DAY_MS;
  return { track: sunTrack(startMs, endMs, place), startMs, endMs, profile, almanacAltitudeDeg: 0 };
}

const reference = new Observer(place.latitude, place.longitude, 0);
const KM_PER_AU = 149_597_870.7;
const MOON_RADIUS_KM = 1737.4;
function referenceSun(ms: number) {
  const date = new Date(ms);
  const { ra, dec } = Equator(Body.Sun, date, reference, true, true);
  const { azimuth, altitude } = Horizon(date, reference, ra, dec);
  return { azimuthDeg: azimuth, trueAltitudeDeg: altitude, altitudeDeg: altitude + refractionDeg(altitude) };
}
function referenceMoon(ms: number) {
  const date = new Date(ms);
  const { ra, dec, dist } = Equator(Body.Moon, date, reference, true, true);
  const { altitude } = Horizon(date, reference, ra, dec);
  return {
    trueAltitudeDeg: altitude,
    semidiameterDeg: (Math.asin(MOON_RADIUS_KM / (dist * KM_PER_AU)) * 180) / Math.PI,
  };
}

const byPosition: Ephemeris = { sun: (ms) => sunPosition(ms, place), moon: (ms) => moonPosition(ms, place) };
const byReference: Ephemeris = { sun: referenceSun, moon: referenceMoon };
const byTrack = (startMs: number): Ephemeris => ({
  sun: sunTrack(startMs, startMs + DAY_MS, place),
  moon: moonTrack(startMs, startMs + DAY_MS, place),
});
const scans: Readonly<Record<string, (startMs: number) => ReturnType<typeof minuteScan>>> = {
  "sunPosition and moonPosition": (ms) => minuteScan(byPosition, ms, 1440, altitudesDeg, EYE_HEIGHT_M),
  "astronomy-engine": (ms) => minuteScan(byReference, ms, 1440, altitudesDeg, EYE_HEIGHT_M),
  "our own tracks": (ms) => minuteScan(byTrack(ms), ms, 1440, altitudesDeg, EYE_HEIGHT_M),
};

function milliseconds(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** Medians of works that are timed in turns, after rounds that count for nothing. */
function inTurns<Name extends string>(
  timed: Readonly<Record<Name, () => void>>,
  rounds = ROUNDS,
): Record<Name, number> {
  const names = Object.keys(timed) as Name[];
  const times = new Map(names.map((name) => [name, [] as number[]]));
  for (let round = -3; round < rounds; round++) {
    for (const name of names) {
      const measured = milliseconds(timed[name]);
      if (round >= 0) times.get(name)?.push(measured);
    }
  }
  return Object.fromEntries(names.map((name) => [name, median(times.get(name) ?? [])])) as Record<Name, number>;
}

// how well the scans find what is there: sunrise and sunset, and the edges of direct light, against those of findLightWindows
function straySeconds(scan: (startMs: number) => ReturnType<typeof minuteScan>): string {
  let found = 0;
  let wanted = 0;
  let worst = 0;
  for (const startMs of days) {
    const { events, directLight: direct } = lightOf(startMs);
    const edges = scan(startMs);
    const nearest = (named: string, instant: string): void => {
      wanted++;
      const away = edges
        .filter(({ name }) => name.startsWith(named))
        .map(({ ms }) => Math.abs(ms - Date.parse(instant)) / 1000);
      const least = Math.min(...away);
      if (!(least <= 60)) return;
      found++;
      worst = Math.max(worst, least);
    };
    for (const { name, instant } of events) {
      if (name === "sunrise" || name === "sunset") nearest("sunrise-sunset", instant);
    }
    for (const { start, end, startCause, endCause } of direct.intervals) {
      if (startCause !== "day-boundary") nearest("upper-limb", start);
      if (endCause !== "day-boundary") nearest("upper-limb", end);
    }
  }
  return `${found} of ${wanted} edges, up to ${worst.toFixed(0)} s off`;
}

console.log("all the light of a day, a year of days");
const whole = inTurns({
  findLightWindows: () => {
    for (const ms of days) sink += lightOf(ms).events.length;
  },
});
console.log(`${"findLightWindows, to the second".padEnd(56)} ${whole.findLightWindows.toFixed(1).padStart(9)} ms`);
for (const [name, scan] of Object.entries(scans)) {
  const few = name === "astronomy-engine";
  const taken = few ? someDays : days;
  // in turns with the scan, and as often as it takes for the clock to tell
  const repeats = few ? 30 : 1;
  const { scan: scanMs, windows: windowsMs } = inTurns(
    {
      scan: () => {
        for (const ms of taken) sink += scan(ms).length;
      },
      windows: () => {
        for (let i = 0; i < repeats; i++) for (const ms of taken) sink += lightOf(ms).events.length;
      },
    },
    5,
  );
  const yearMs = (scanMs * DAYS) / taken.length;
  const ratio = (scanMs * repeats) / windowsMs;
  console.log(
    `${`a scan each minute, by ${name}`.padEnd(56)} ${yearMs.toFixed(1).padStart(9)} ms ${ratio.toFixed(1).padStart(8)} × as long   ${straySeconds(scan)}`,
  );
}

console.log("\ndirect light alone, a year of days");
const alone = inTurns({
  "directLight, day by day": () => {
    for (const ms of days) sink += directLight(requestFor(ms, 1)).intervals.length;
  },
  "directLight, one span": () => {
    sink += directLight(requestFor(firstMs, DAYS)).intervals.length;
  },
  "a scan of the limb each minute, by sunPosition": () => {
    for (const ms of days) {
      const request = { ...requestFor(ms, 1), track: (at: number) => sunPosition(at, place) };
      sink += scanEdges(limbScan(request, MINUTE_MS)).length;
    }
  },
  "a scan of the limb each minute, by our own track": () => {
    for (const ms of days) sink += scanEdges(limbScan(requestFor(ms, 1), MINUTE_MS)).length;
  },
});
const directMs = alone["directLight, day by day"];
for (const [name, ms] of Object.entries(alone)) {
  console.log(`${name.padEnd(56)} ${ms.toFixed(1).padStart(9)} ms ${(ms / directMs).toFixed(1).padStart(8)} × as long`);
}

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
