import { existsSync } from "node:fs";
import { type ElevationGrid, HorizonScanner, horizonAltitudeDeg, scanHorizon } from "@fieldstop/core/horizon";
import { bruteForce } from "../tests/core/horizon/brute-force";
import { gridOf, hills, noise } from "../tests/core/horizon/grids";
import { demoFolder, type Ground, groundOf, realFolder } from "./terrain/grounds";

/**
 * How exact a skyline is. First the scan against brute force (exact geodesic points every 40 m, every patch that is crossed, its analytic
 * maximum), each azimuth by both in this run: on needles, on rough hills, and on real tiles where they lie beside the repository. Then
 * what straight lines between the azimuths of a profile miss, for even steps and with azimuths put between.
 */
const EYE_M = 2;
/** Directions that profiles are looked at in between their own. */
const BETWEEN = 36_000;

interface Trial {
  readonly name: string;
  readonly grids: readonly ElevationGrid[];
  readonly places: Ground["places"];
  readonly azimuths: number;
  readonly radiusM: number;
}

function madeUp(): Trial[] {
  const random = noise(20_261_125);
  const bounds = { south: 45, west: -6.3, rows: 361, columns: 721, perDegree: 1200 };
  const needles = gridOf(bounds, () => 500 * random());
  const rough = gridOf(bounds, (lat, lon) => hills(lat, lon) + 20 * random());
  const places = [
    { latitude: 45.1503, longitude: -6.0007 },
    { latitude: 45.1111, longitude: -5.9333 },
    { latitude: 45.2017, longitude: -6.0821 },
  ];
  const common = { places, azimuths: 360, radiusM: 15_000 };
  return [
    { name: "needles, 3″", grids: [needles], ...common },
    { name: "rough hills, 3″", grids: [rough], ...common },
  ];
}

function againstBruteForce({ grids, places, azimuths, radiusM }: Trial): Record<string, string | number> {
  let count = 0;
  let maxDeg = 0;
  let squares = 0;
  for (const { latitude, longitude } of places) {
    const azimuthsDeg = Array.from({ length: azimuths }, (_, i) => (i * 360) / azimuths);
    const scan = scanHorizon(grids, { latitude, longitude, eyeHeightM: EYE_M }, { azimuthsDeg, radiusM });
    azimuthsDeg.forEach((azimuth, i) => {
      const brute = bruteForce(grids, latitude, longitude, scan.eyeElevationM, azimuth, radiusM);
      const found = scan.altitudesDeg[i] as number;
      // past the data there is the sea, which brute force does not know: there the scan may only be higher
      const bySea = (scan.distancesM[i] as number) > (scan.reachesM[i] as number) - 1;
      const error = bySea ? Math.max(0, brute.altitudeDeg - found) : Math.abs(found - brute.altitudeDeg);
      count++;
      maxDeg = Math.max(maxDeg, error);
      squares += error * error;
    });
  }
  return { azimuths: count, "max [deg]": maxDeg.toFixed(7), "rms [deg]": Math.sqrt(squares / count).toFixed(7) };
}

function betweenAzimuths({ grids, places, radiusM }: Trial): Record<string, Record<string, string | number>> {
  const truths = places.map((place) => {
    const scanner = new HorizonScanner(grids, { ...place, eyeHeightM: EYE_M }, { radiusM });
    return Array.from({ length: BETWEEN }, (_, i) => scanner.at((i * 360) / BETWEEN + 0.0031).altitudeDeg);
  });
  const ways = {
    "1°": { stepDeg: 1 },
    "0.5°": { stepDeg: 0.5 },
    "0.25°": { stepDeg: 0.25 },
    "0.1°": { stepDeg: 0.1 },
    "0.25°, refined to 0.05°": { refine: { toleranceDeg: 0.05 } },
    "0.25°, refined to 0.01°": { refine: {} },
    "0.25°, refined to 0.004°": { refine: { toleranceDeg: 0.004 } },
  };
  const rows: Record<string, Record<string, string | number>> = {};
  for (const [name, options] of Object.entries(ways)) {
    let azimuths = 0;
    let maxDeg = 0;
    let squares = 0;
    let over = 0;
    places.forEach((place, p) => {
      const profile = scanHorizon(grids, { ...place, eyeHeightM: EYE_M }, { ...options, radiusM });
      azimuths += profile.azimuthsDeg.length;
      truths[p]?.forEach((truth, i) => {
        const miss = Math.abs(horizonAltitudeDeg(profile, (i * 360) / BETWEEN + 0.0031) - truth);
        maxDeg = Math.max(maxDeg, miss);
        squares += miss * miss;
        if (miss > 0.01) over++;
      });
    });
    const looks = places.length * BETWEEN;
    rows[name] = {
      azimuths: Math.round(azimuths / places.length),
      "max [deg]": maxDeg.toFixed(4),
      "rms [deg]": Math.sqrt(squares / looks).toFixed(5),
      "over 0.01° [%]": ((100 * over) / looks).toFixed(3),
    };
  }
  return rows;
}

async function main(): Promise<void> {
  const demo = await groundOf("demo island, 3″", demoFolder, [56.56, 56.66, -9.5, -9.3], 6);
  const trials = [...madeUp(), { ...demo, azimuths: 48, radiusM: 100_000 }];
  if (existsSync(realFolder)) {
    const real = await groundOf("real archipelago, 3″", realFolder, [38.35, 38.75, -28.85, -27.75], 8);
    trials.push({ ...real, azimuths: 48, radiusM: 150_000 });
  } else console.log("The real tiles do not lie beside the repository: theirs are skipped.\n");
  console.log("The scan against brute force");
  console.table(Object.fromEntries(trials.map((trial) => [trial.name, againstBruteForce(trial)])));
  for (const trial of trials) {
    console.log(`\nStraight lines between azimuths: ${trial.name}`);
    console.table(betweenAzimuths(trial));
  }
}

await main();
