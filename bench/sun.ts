import { dayEvents, twilightWindows } from "@fieldstop/core/almanac";
import { moonPosition, moonTrack, sunPosition, sunTrack } from "@fieldstop/core/sky";
import { Body, Equator, Horizon, Observer, SearchAltitude } from "astronomy-engine";
import { getMoonPosition, getPosition } from "suncalc";
import { median } from "../tests/median";

/**
 * Positions of sun and moon, a day's timeline, and a day's events, each against a peer that is timed in turns with it in the same run: suncalc, which is
 * small and quick, and astronomy-engine, which is exact.
 */
const ROUNDS = 9;
const MINUTE_MS = 60_000;
const DAY_MS = 1440 * MINUTE_MS;
const strand = { latitude: 56.6, longitude: -9.4 };
const reference = new Observer(strand.latitude, strand.longitude, 0);

// instants over the years, and the dates that the peers take, made beforehand
const instants = Array.from({ length: 4096 }, (_, i) => Date.UTC(1950, 0, 1) + i * 7.7e8);
const dates = instants.map((ms) => new Date(ms));
const startMs = Date.UTC(2027, 2, 20);
const minutes = Array.from({ length: 1440 }, (_, i) => startMs + i * MINUTE_MS);
const minuteDates = minutes.map((ms) => new Date(ms));

let sink = 0;

function referenceAltitude(body: Body, date: Date): number {
  const { ra, dec } = Equator(body, date, reference, true, true);
  return Horizon(date, reference, ra, dec).altitude;
}

/** Pieces of work a second. */
function rate(work: () => void, pieces: number): number {
  const start = performance.now();
  work();
  return (pieces * 1000) / (performance.now() - start);
}

function compare(
  name: string,
  ours: () => void,
  pieces: number,
  peers: readonly (readonly [name: string, work: () => void, pieces: number])[],
): void {
  const rates: number[] = [];
  const ratios = peers.map((): number[] => []);
  for (let round = -2; round < ROUNDS; round++) {
    const own = rate(ours, pieces);
    const theirs = peers.map(([, work, count]) => rate(work, count));
    // the first rounds warm up
    if (round < 0) continue;
    rates.push(own);
    for (const [i, their] of theirs.entries()) ratios[i]?.push(own / their);
  }
  const persecond = Math.round(median(rates)).toLocaleString("en");
  const against = peers.map(([peer], i) => `${median(ratios[i] as number[]).toFixed(2)} × ${peer}`).join(", ");
  console.log(`${name.padEnd(34)} ${persecond.padStart(11)} a second   ${against}`);
}

const repeat = (times: number, work: () => void) => (): void => {
  for (let i = 0; i < times; i++) work();
};

compare(
  "sunPosition",
  repeat(20, () => {
    for (const ms of instants) sink += sunPosition(ms, strand).altitudeDeg;
  }),
  20 * instants.length,
  [
    [
      "suncalc",
      repeat(20, () => {
        for (const date of dates) sink += getPosition(date, strand.latitude, strand.longitude).altitude;
      }),
      20 * dates.length,
    ],
    [
      "astronomy-engine",
      () => {
        for (const date of dates) sink += referenceAltitude(Body.Sun, date);
      },
      dates.length,
    ],
  ],
);

compare(
  "moonPosition",
  repeat(4, () => {
    for (const ms of instants) sink += moonPosition(ms, strand).altitudeDeg;
  }),
  4 * instants.length,
  [
    [
      "suncalc",
      repeat(4, () => {
        for (const date of dates) sink += getMoonPosition(date, strand.latitude, strand.longitude).altitude;
      }),
      4 * dates.length,
    ],
    [
      "astronomy-engine",
      () => {
        for (const date of dates) sink += referenceAltitude(Body.Moon, date);
      },
      dates.length,
    ],
  ],
);

compare(
  "day of sun and moon, each minute",
  repeat(10, () => {
    const sun = sunTrack(startMs, startMs + DAY_MS, strand);
    const moon = moonTrack(startMs, startMs + DAY_MS, strand);
    for (const ms of minutes) sink += sun(ms).altitudeDeg + moon(ms).altitudeDeg;
  }),
  10,
  [
    [
      "astronomy-engine, each call",
      () => {
        for (const date of minuteDates) {
          sink += referenceAltitude(Body.Sun, date) + referenceAltitude(Body.Moon, date);
        }
      },
      1,
    ],
  ],
);

const days = Array.from({ length: 365 }, (_, i) => Date.UTC(2027, 0, 1) + i * DAY_MS);
compare(
  "events and windows of a day",
  () => {
    for (const ms of days) {
      sink += dayEvents(ms, ms + DAY_MS, strand).events.length + twilightWindows(ms, ms + DAY_MS, strand).length;
    }
  },
  days.length,
  [
    [
      "astronomy-engine, the sun's eight events",
      () => {
        for (const ms of days) {
          for (const altitude of [-50 / 60, -6, -12, -18]) {
            for (const direction of [1, -1]) {
              const found = SearchAltitude(Body.Sun, reference, direction, new Date(ms), 1, altitude);
              sink += found === null ? 0 : found.ut;
            }
          }
        }
      },
      days.length,
    ],
  ],
);

if (!Number.isFinite(sink)) throw new Error("an answer was not a number");
