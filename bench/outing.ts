import { horizonProfileFromPoints, type OutingRequest, planOuting, sunPosition } from "@fieldstop/core";
import { median } from "../tests/median";

// The whole plan of an evening with a warm horizon, against a bare sun position in the same run.

const bumps = Array.from({ length: 1440 }, (_, i) => ({
  azimuthDeg: i / 4,
  altitudeDeg: 2 + 2 * Math.sin(i / 40) + 0.4 * Math.sin(i / 3),
}));
const evening: OutingRequest = {
  place: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, elevationM: 2, eyeHeightM: 1.6 },
  date: "2027-03-20",
  timeZone: "Europe/London",
  session: "evening",
  horizon: { kind: "profile", profile: horizonProfileFromPoints(bumps) },
  camera: { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
  sky: { cloudCover: { low: 10, middle: 30, high: 40 }, temperatureC: 8, relativeHumidity: 85 },
};
const bag: OutingRequest = {
  ...evening,
  filters: [
    { kind: "nd", stops: 3 },
    { kind: "nd", stops: 6 },
    { kind: "nd", stops: 10 },
    { kind: "graduated", stops: 3, transition: "soft" },
    { kind: "polarizer" },
  ],
  targetShutterSeconds: 30,
};

const ROUNDS = 15;

function time(task: () => unknown, repeats: number): number {
  const start = performance.now();
  for (let i = 0; i < repeats; i++) task();
  return (performance.now() - start) / repeats;
}

const start = Date.UTC(2027, 2, 20, 12);
let i = 0;
const tasks = {
  "bare sun position": () => sunPosition(start + 60_000 * (i++ % 600), evening.place),
  "plan without filters": () => planOuting(evening),
  "plan with five filters and 30 s wanted": () => planOuting(bag),
};
for (const task of Object.values(tasks)) time(task, 10);
const times = Object.fromEntries(Object.keys(tasks).map((name) => [name, [] as number[]]));
for (let round = 0; round < ROUNDS; round++) {
  for (const [name, task] of Object.entries(tasks)) times[name]?.push(time(task, name.startsWith("bare") ? 20_000 : 4));
}
const sun = median(times["bare sun position"] as number[]);
console.log("| what | median ms | sun positions in that time |");
console.log("|---|---|---|");
for (const [name, all] of Object.entries(times)) {
  const ms = median(all);
  console.log(`| ${name} | ${ms.toPrecision(3)} | ${Math.round(ms / sun)} |`);
}
