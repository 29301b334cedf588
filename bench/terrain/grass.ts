import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ElevationGrid } from "@fieldstop/core/horizon";

/** Any projection in metres does. */
const LOCATION = "EPSG:32626";
/** What the script prints seconds of a process. */
const TIME = /took ([0-9.]+) ([0-9.]+)/g;

/**
 * Processor time that r.horizon takes for one place and 720 azimuths out to a radius, as a whole process [ms]; null where GRASS is not installed.
 * For its time only: version 8.2 snaps to the cell, has no eye height and no refraction, and its horizons of single places are faulty.
 * The grid is handed over as a plain one in metres.
 *
 * @param times how often; the least counts
 */
export function grassHorizonMs(
  grid: ElevationGrid,
  latitude: number,
  longitude: number,
  radiusM: number,
  times: number,
) {
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
    const script = [
      "set -e",
      `r.in.bin -s --quiet input=${join(folder, "heights")} output=heights bytes=2 rows=${grid.rows} cols=${grid.columns} ${edges}`,
      "g.region raster=heights",
      `for i in $(seq ${times}); do`,
      "  TIMEFORMAT='took %U %S'",
      `  time r.horizon --quiet elevation=heights direction=0 step=0.5 maxdistance=${radiusM} coordinates=${place} >${join(folder, "horizon")}`,
      "done",
    ].join("\n");
    writeFileSync(join(folder, "measure.sh"), script);
    const { stdout, stderr } = spawnSync(
      "grass",
      ["--tmp-location", LOCATION, "--exec", "bash", join(folder, "measure.sh")],
      {
        encoding: "utf8",
        env: { ...process.env, GRASS_SKIP_MAPSET_OWNER_CHECK: "1" },
      },
    );
    const seconds = [...stderr.matchAll(TIME)].map(([, user, system]) => Number(user) + Number(system));
    if (seconds.length !== times) throw new Error(`GRASS did not finish: ${stdout}${stderr}`);
    return 1000 * Math.min(...seconds);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
