import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ElevationGrid } from "@fieldstop/core/horizon";

/** Any projection in metres does. */
const LOCATION = "EPSG:32626";
/** What the script prints: processor seconds of a process and all that it starts. */
const TIME = /took ([0-9.]+) ([0-9.]+)/g;

/** Processor time of GRASS for so many azimuths [ms]. */
export interface GrassTimes {
  readonly azimuths: number;
  /** Of `grass --exec r.horizon …` in a location where the heights are already: the whole process. */
  readonly wholeMs: number;
  /** Of r.horizon alone. */
  readonly commandMs: number;
}

/**
 * How long GRASS takes for one place out to a radius, for each of several numbers of azimuths; null where it is not installed. For its
 * time only: version 8.2 snaps to the cell, has no eye height and no refraction, and its horizons of single places are faulty. The grid
 * is handed over as a plain one in metres.
 *
 * @param times how often; the least counts
 */
export function grassTimes(
  grid: ElevationGrid,
  latitude: number,
  longitude: number,
  radiusM: number,
  counts: readonly number[],
  times: number,
): GrassTimes[] | null {
  if (spawnSync("grass", ["--version"]).status !== 0) return null;
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-grass-"));
  try {
    // 111,195 m to a degree on the mean sphere
    const cellM = grid.latStepDeg * 111_195;
    const column = Math.round((longitude - grid.westDeg) / grid.lonStepDeg);
    const row = Math.round((grid.northDeg - latitude) / grid.latStepDeg);
    const { buffer, byteOffset, byteLength } = grid.samples;
    writeFileSync(join(folder, "heights"), new Uint8Array(buffer, byteOffset, byteLength));
    const edges = `north=${grid.rows * cellM} south=0 west=0 east=${grid.columns * cellM}`;
    const place = `${(column + 0.5) * cellM},${(grid.rows - row - 0.5) * cellM}`;
    const horizon = (count: number) =>
      `r.horizon --quiet elevation=heights direction=0 step=${360 / count} maxdistance=${radiusM} coordinates=${place}`;
    const repeated = (command: string) =>
      `for i in $(seq ${times}); do time ${command} >"${folder}/found" 2>/dev/null; done`;
    const alone = counts.map((count) => repeated(horizon(count)));
    writeFileSync(join(folder, "alone.sh"), ["TIMEFORMAT='took %U %S'", ...alone, ""].join("\n"));
    const session = `grass "${folder}/location/PERMANENT" --exec`;
    const script = [
      "set -e",
      `grass -c ${LOCATION} "${folder}/location" -e`,
      `${session} r.in.bin -s input="${folder}/heights" output=heights bytes=2 rows=${grid.rows} cols=${grid.columns} ${edges}`,
      `${session} g.region raster=heights`,
      "TIMEFORMAT='took %U %S'",
      ...counts.map((count) => repeated(`${session} ${horizon(count)}`)),
      `${session} bash "${folder}/alone.sh"`,
    ];
    const { stderr } = spawnSync("bash", ["-c", script.join("\n")], { encoding: "utf8" });
    const took = [...stderr.matchAll(TIME)].map(([, user, system]) => 1000 * (Number(user) + Number(system)));
    if (took.length !== 2 * times * counts.length) throw new Error(`GRASS did not finish: ${stderr}`);
    const least = (run: number) => Math.min(...took.slice(run * times, (run + 1) * times));
    return counts.map((azimuths, i) => ({ azimuths, wholeMs: least(i), commandMs: least(counts.length + i) }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
