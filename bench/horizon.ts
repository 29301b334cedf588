import { existsSync } from "node:fs";
import { type ElevationGrid, HorizonScanner, scanHorizon } from "@fieldstop/core/horizon";
import { createTerrain } from "@fieldstop/terrain";
import { grassTimes } from "./terrain/grass";
import { demoFolder, type Ground, groundOf, madeUpHills, realFolder } from "./terrain/grounds";
import { march } from "./terrain/march";

/**
 * The horizon scan against a plain marcher at a quarter of a cell, alternating in one run, out to 150 km: on the demo island's nine 3″
 * tiles, on four real ones where they lie beside the repository, and on nine made-up tiles of 1″. The marcher has the same geodesics,
 * curvature and bilinear ground; it reads one grid put together from the tiles, the scan the tiles themselves. On the 1″ tiles also by
 * radius, cold and warm; and against GRASS, where it is installed. All but the last table is processor time; even so it swings with
 * whatever else the machine does, ratios and the least times the least.
 */
const RADIUS_M = 150_000;
const EYE_M = 2;
const WARM_UP = 4;

const coarse = Array.from({ length: 720 }, (_, i) => i / 2);
const fine = Array.from({ length: 3600 }, (_, i) => i / 10);

type Place = Ground["places"][number];

const quantile = (times: readonly number[], q: number): number =>
  [...times].sort((a, b) => a - b)[Math.round(q * (times.length - 1))] as number;
const ms = (value: number): string => value.toFixed(value < 1 ? 3 : 2);

/** Processor time [ms], which other work on the machine does not lengthen by as much as it does the wall clock's. */
function timed<T>(run: () => T): [number, T] {
  const start = process.cpuUsage();
  const result = run();
  const { user, system } = process.cpuUsage(start);
  return [(user + system) / 1000, result];
}

const scanOf = (grids: readonly ElevationGrid[], place: Place, azimuthsDeg: readonly number[], radiusM = RADIUS_M) =>
  timed(() => scanHorizon(grids, { ...place, eyeHeightM: EYE_M }, { azimuthsDeg, radiusM }));

function measure({ name, grids, whole, places }: Ground): Record<string, string> {
  const [pyramidMs] = timed(() => grids.map((grid) => grid.pyramid));
  const refined = { refine: {}, radiusM: RADIUS_M };
  for (let i = 0; i < WARM_UP; i++) for (const place of places) scanOf(grids, place, coarse);
  const times = { coarse: [] as number[], fine: [] as number[], refined: [] as number[] };
  const others = { march: [] as number[], single: [] as number[] };
  let missedDeg = 0;
  for (const place of places) {
    const [marchMs, marched] = timed(() => march(whole, place.latitude, place.longitude, EYE_M, coarse, RADIUS_M));
    others.march.push(marchMs);
    for (let i = 0; i < 5; i++) {
      const [scanMs, scanned] = scanOf(grids, place, coarse);
      times.coarse.push(scanMs);
      times.fine.push(scanOf(grids, place, fine)[0]);
      times.refined.push(timed(() => scanHorizon(grids, { ...place, eyeHeightM: EYE_M }, refined))[0]);
      if (i > 0) continue;
      scanned.altitudesDeg.forEach((altitude, k) => {
        // where the sea beyond the data makes the skyline the marcher has nothing to find
        const known = (scanned.distancesM[k] as number) < (scanned.reachesM[k] as number);
        if (known) missedDeg = Math.max(missedDeg, altitude - (marched[k] as number));
      });
    }
    const scanner = new HorizonScanner(grids, { ...place, eyeHeightM: EYE_M }, { radiusM: RADIUS_M });
    for (let i = 0; i < 30; i++) {
      const [tenMs] = timed(() => {
        for (let k = 0; k < 10; k++) scanner.at(((10 * i + k) * 137.5) % 360);
      });
      others.single.push(100 * tenMs);
    }
  }
  const heights = grids.reduce((sum, grid) => sum + grid.samples.byteLength, 0);
  const maxima = grids.reduce((sum, grid) => sum + grid.pyramid.maxima.byteLength, 0);
  const samples = grids.reduce((sum, grid) => sum + grid.samples.length, 0);
  return {
    ground: name,
    "720 p50 [ms]": ms(quantile(times.coarse, 0.5)),
    "720 p99": ms(quantile(times.coarse, 0.99)),
    "720 least": ms(quantile(times.coarse, 0)),
    "3600 p50": ms(quantile(times.fine, 0.5)),
    "3600 least": ms(quantile(times.fine, 0)),
    "1440 refined to 0.01°, p50": ms(quantile(times.refined, 0.5)),
    "march 720 p50": ms(quantile(others.march, 0.5)),
    "march / scan": (quantile(others.march, 0.5) / quantile(times.coarse, 0.5)).toFixed(1),
    "march misses [deg]": missedDeg.toFixed(2),
    "one azimuth [µs]": ms(quantile(others.single, 0.5)),
    "pyramid [ms/Msample]": ms(pyramidMs / (samples / 1e6)),
    "heights and pyramids [MB]": ((heights + maxima) / 1e6).toFixed(0),
    "pyramids / heights [%]": ((100 * maxima) / heights).toFixed(1),
  };
}

/** By radius and number of azimuths: cold with the processor's caches full of other things, the least and the median warm. */
function byRadius({ grids, places }: Ground): Record<string, Record<string, string>> {
  const rows: Record<string, Record<string, string>> = {};
  const other = new Float64Array(8_000_000);
  for (const radiusKm of [25, 50, 100, 150]) {
    const row: Record<string, string> = {};
    for (const azimuthsDeg of [coarse, fine]) {
      const times = { cold: [] as number[], warm: [] as number[] };
      for (const place of places) {
        other.forEach((x, i) => {
          other[i] = x + 1;
        });
        times.cold.push(scanOf(grids, place, azimuthsDeg, radiusKm * 1000)[0]);
        for (let i = 0; i < 5; i++) times.warm.push(scanOf(grids, place, azimuthsDeg, radiusKm * 1000)[0]);
      }
      const label = `${azimuthsDeg.length}`;
      row[`${label} cold p50 [ms]`] = ms(quantile(times.cold, 0.5));
      row[`${label} warm p50`] = ms(quantile(times.warm, 0.5));
      row[`${label} warm least`] = ms(quantile(times.warm, 0));
    }
    rows[`${radiusKm} km`] = row;
  }
  return rows;
}

/** The maximum pyramid of one 1″ tile: the first, with the code still cold, and the least of some more. */
function pyramidTimes(tile: ElevationGrid): Record<string, string> {
  const { samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg } = tile;
  const Grid = tile.constructor as typeof ElevationGrid;
  const build = () =>
    timed(
      () => new Grid({ samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue: -32768 }).pyramid,
    )[0];
  const times = Array.from({ length: 7 }, build);
  return { "first [ms]": ms(times[0] as number), least: ms(quantile(times, 0)), median: ms(quantile(times, 0.5)) };
}

/** From a folder to an answer, tiles unpacked on the way; the second place finds them in memory. */
async function cold(name: string, folder: string, places: Ground["places"]): Promise<Record<string, string>> {
  const start = performance.now();
  const terrain = await createTerrain({ sources: [folder] });
  const opened = performance.now();
  await terrain.horizonAt({ ...(places[0] as Place), eyeHeightM: EYE_M });
  const answered = performance.now();
  await terrain.horizonAt({ ...(places[1] as Place), eyeHeightM: EYE_M });
  return {
    ground: name,
    "open the folder [ms]": ms(opened - start),
    "first place, refined": ms(answered - opened),
    "second place": ms(performance.now() - answered),
  };
}

function againstGrass({ name, grids, whole, places }: Ground): void {
  const [{ latitude, longitude }] = places as [Place];
  const grass = grassTimes(whole, latitude, longitude, RADIUS_M, [coarse.length, fine.length], 3);
  if (grass === null) {
    console.log("GRASS is not installed: its ratio is skipped (apt-get install grass-core).");
    return;
  }
  for (const { azimuths, wholeMs, commandMs } of grass) {
    const azimuthsDeg = azimuths === coarse.length ? coarse : fine;
    const times = Array.from({ length: 30 }, () => scanOf(grids, { latitude, longitude }, azimuthsDeg)[0]);
    const scanMs = quantile(times, 0.5);
    const against = (grassMs: number) =>
      `${ms(grassMs)} ms, ${(grassMs / scanMs).toFixed(0)} times the scan's ${ms(scanMs)} ms`;
    console.log(
      `GRASS, ${name}, ${azimuths} azimuths: the whole process ${against(wholeMs)}; r.horizon ${against(commandMs)}`,
    );
  }
}

async function main(): Promise<void> {
  const demo = await groundOf("demo island, 3″", demoFolder, [56.56, 56.66, -9.5, -9.3], 12);
  const coldRows = [await cold(demo.name, demoFolder, demo.places)];
  const grounds = [demo];
  if (existsSync(realFolder)) {
    const real = await groundOf("real archipelago, 3″", realFolder, [38.35, 38.75, -28.85, -27.75], 30);
    grounds.push(real);
    coldRows.push(await cold(real.name, realFolder, real.places));
  }
  const hills = madeUpHills();
  grounds.push(hills);
  const columns = grounds.map(measure);
  const labels = Object.keys(columns[0] as object).slice(1);
  console.table(
    Object.fromEntries(
      labels.map((label) => [label, Object.fromEntries(columns.map((column) => [column["ground"], column[label]]))]),
    ),
  );
  console.log(`\n${hills.name}, by radius`);
  console.table(byRadius(hills));
  console.log("\nThe maximum pyramid of 3601 by 3601 samples");
  console.table(pyramidTimes(hills.grids[0] as ElevationGrid));
  console.log("\nFrom a folder to an answer");
  console.table(Object.fromEntries(coldRows.map(({ ground, ...row }) => [ground, row])));
  for (const ground of grounds.slice(1)) againstGrass(ground);
}

await main();
