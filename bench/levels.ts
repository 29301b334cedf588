import { zoneClock } from "@fieldstop/core";
import { skyViewFactor } from "@fieldstop/core/horizon";
import { sceneLevels, skyContrastByDirection, traceLevels } from "@fieldstop/core/light";
import { moonTrack, sunPosition, sunTrack } from "@fieldstop/core/sky";
import { median } from "../tests/median";

/**
 * What the brightness of a scene costs, against the bare position of the sun that it starts from, timed in turns with
 * it; and the two spans that a person waits for, in milliseconds: the light of an outing's ten moments with all
 * directions, and of a day each minute.
 */
const ROUNDS = 7;
const observer = { latitude: 56.6, longitude: -9.4 };
const startMs = Date.UTC(2027, 2, 20, 12);
const MINUTE = 60_000;
let sink = 0;

const camera = { azimuthDeg: 265 };
const cloud = { cloudCover: { low: 30, middle: 20, high: 60 } };

const works = {
  "sunPosition alone": (i: number) => {
    sink += sunPosition(startMs + i * 777, observer).altitudeDeg;
  },
  "levels, whole sky": (i: number) => {
    const sun = sunPosition(startMs + i * 777, observer);
    sink += sceneLevels({ sun, directLight: true, skyViewFactor: 0.9 }).contrastStops;
  },
  "levels in a frame": (i: number) => {
    const sun = sunPosition(startMs + i * 777, observer);
    sink += sceneLevels({ sun, directLight: true, skyViewFactor: 0.9, camera }).contrastStops;
  },
  "the same under cloud": (i: number) => {
    const sun = sunPosition(startMs + i * 777, observer);
    sink += sceneLevels({ sun, directLight: true, skyViewFactor: 0.9, camera, sky: cloud }).contrastStops;
  },
};

function rate(work: (i: number) => void, loops: number): number {
  const start = performance.now();
  for (let i = 0; i < loops; i++) work(i);
  return (loops * 1000) / (performance.now() - start);
}

const names = Object.keys(works) as (keyof typeof works)[];
const rates = new Map(names.map((name) => [name, [] as number[]]));
for (let round = -1; round < ROUNDS; round++) {
  for (const name of names) {
    const measured = rate(works[name], name === "sunPosition alone" ? 60_000 : 4000);
    if (round >= 0) rates.get(name)?.push(measured);
  }
}
const bare = median(rates.get("sunPosition alone") ?? []);
for (const name of names) {
  const perSecond = median(rates.get(name) ?? []);
  const count = Math.round(perSecond).toLocaleString("en").padStart(10);
  console.log(`${name.padEnd(22)} ${count} a second   ${(perSecond / bare).toFixed(4)} of the bare position`);
}

function milliseconds(work: () => void): number {
  const times: number[] = [];
  for (let round = 0; round < 3; round++) work();
  for (let round = 0; round < ROUNDS; round++) {
    const start = performance.now();
    work();
    times.push(performance.now() - start);
  }
  return median(times);
}

const profile = { azimuthsDeg: [0, 220, 250, 300, 330], altitudesDeg: [0, 0.5, 6, 4, 0] };
const outing = milliseconds(() => {
  for (let i = 0; i < 10; i++) {
    const sun = sunPosition(startMs + i * 40 * MINUTE, observer);
    const request = { sun, directLight: i < 6, skyViewFactor: 0.95, camera, sky: cloud };
    sink += sceneLevels(request).contrastStops + (skyContrastByDirection(request)[0]?.skyEv100 ?? 0);
  }
});
const endMs = startMs + 24 * 60 * MINUTE;
const day = milliseconds(() => {
  const { rows } = traceLevels({
    startMs,
    endMs,
    sun: sunTrack(startMs, endMs, observer),
    moon: moonTrack(startMs, endMs, observer),
    profile,
    skyViewFactor: skyViewFactor(profile),
    camera,
    clock: zoneClock("Atlantic/Reykjavik"),
  });
  sink += rows.length;
});
console.log(`\nten moments of an outing, 24 directions each   ${outing.toFixed(1)} ms`);
console.log(`a day each minute, in a frame, with the moon    ${day.toFixed(1)} ms`);
if (!Number.isFinite(sink)) throw new Error("an answer was not a number");
