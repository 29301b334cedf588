import { createHash } from "node:crypto";
import type { Stats } from "node:fs";
import { readdir, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import type { ElevationGrid } from "@fieldstop/core/horizon";
import pLimit from "p-limit";
import { isGeoTiff } from "./geotiff/geotiff";
import { geoTiffTileByName, geoTiffTiles } from "./geotiff/geotiff-tiles";
import type { SampleWindow } from "./geotiff/geotiff-window";
import { openLocalGeoTiff } from "./geotiff/local-file";
import { hgtCell, isHgt, SRTM } from "./hgt/hgt";
import { folderOfMapTiles, isMapTile } from "./map-tiles/map-tile-folder";
import { mapTilesIn } from "./map-tiles/map-tiles";
import { cellBox } from "./tiles/degree-cell";
import { readPlainFile } from "./tiles/plain-file";
import { TileError } from "./tiles/tile-error";
import { gridOf } from "./tiles/tile-recipe";
import type { TileIndex, TileReader, TileRef, TileSource, UnplacedTile } from "./tiles/tile-ref";

/** A folder may say who made its data in a file of this name. */
const ATTRIBUTION = "ATTRIBUTION.txt";
/** It is part of every answer [B]. */
const LONGEST_ATTRIBUTION = 10_000;
const LOOKED_AT_AT_ONCE = 64;

/**
 * What tiles a folder and the folders in it hold, by degree cell: names and headers are read now, heights when they are needed. A
 * file whose place cannot be told is kept as such, and takes no other with it.
 *
 * @throws Error naming FIELDSTOP_ELEVATION for a folder that does not exist
 */
export async function indexFolder(folder: string): Promise<TileIndex> {
  const names = await filesIn(folder);
  const found: FoundTiles = { tiles: [], unplaced: [], faults: [], cells: new Set() };
  const attribution = names.includes(ATTRIBUTION) ? await attributionIn(folder, found.faults) : {};
  const fingerprint: string[] = [];
  const mapTiles = names.filter(isMapTile);
  const mapTilesVersion = await versionOf(folder, mapTiles);
  if (mapTiles.length > 0) fingerprint.push(mapTilesVersion);
  for (const name of names) {
    if (!isHgt(name) && !isGeoTiff(name)) continue;
    const path = join(folder, name);
    const version = await fingerprintOf(name, path);
    fingerprint.push(version);
    if (isGeoTiff(name)) await addGeoTiff(found, path, version, attribution);
    else await addHgt(found, path, version, attribution);
  }
  const { tiles, unplaced, faults } = found;
  if (mapTiles.length === 0) return { tiles, unplaced, faults, fingerprint };
  const tilesIn = mapTilesIn({ ...folderOfMapTiles(folder, mapTiles, mapTilesVersion), ...attribution });
  return { tiles, unplaced, faults, tilesIn, fingerprint };
}

/** What was found in a folder so far. */
interface FoundTiles {
  readonly tiles: TileRef[];
  readonly unplaced: UnplacedTile[];
  readonly faults: TileError[];
  /** Degree cells that a tile in HGT form covers. */
  readonly cells: Set<string>;
}

interface Attribution {
  readonly attribution?: string;
}

/** Adds a GeoTIFF: by its header or, where that cannot be read, by a name that tells its cell. */
async function addGeoTiff(found: FoundTiles, path: string, version: string, attribution: Attribution): Promise<void> {
  const name = basename(path);
  const open = () => openLocalGeoTiff(path);
  const source = { kind: "GeoTIFF", ...attribution };
  const read = (window: SampleWindow, reader: TileReader) => readGeoTiffFile(path, window, reader);
  const place = () => geoTiffTiles(path, name, source, open, read, () => version);
  const placed = await tilesOrReason(place);
  const byName = geoTiffTileByName(path, name, source, open, read);
  if (!(placed instanceof TileError)) {
    for (const tile of placed) found.tiles.push(tile);
    return;
  }
  found.faults.push(placed);
  if (byName !== null) found.tiles.push(byName);
  else found.unplaced.push({ ...unplacedBy(path, placed), place });
}

/** Adds an HGT tile. Where two cover the same cell, such as 1″ beside 3″, the first by name counts, which is the finer. */
async function addHgt(found: FoundTiles, path: string, version: string, attribution: Attribution): Promise<void> {
  const placed = await tilesOrReason(async () => [hgtTile(path, { kind: SRTM, ...attribution }, version)]);
  if (placed instanceof TileError) {
    found.faults.push(placed);
    found.unplaced.push(unplacedBy(path, placed));
    return;
  }
  const cell = JSON.stringify(placed[0]?.box);
  if (!found.cells.has(cell)) for (const tile of placed) found.tiles.push(tile);
  found.cells.add(cell);
}

async function attributionIn(folder: string, faults: TileError[]): Promise<Attribution> {
  try {
    const bytes = await readPlainFile(join(folder, ATTRIBUTION), LONGEST_ATTRIBUTION);
    return { attribution: Buffer.from(bytes).toString("utf8").trim() };
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown fault";
    faults.push(new TileError(ATTRIBUTION, `the file cannot be read (${code})`, { cause: error }));
    return {};
  }
}

async function readGeoTiffFile(path: string, window: SampleWindow, read: TileReader): Promise<ElevationGrid> {
  const name = basename(path);
  return gridOf(name, await read({ kind: "geotiff", name, window, from: { path } }));
}

async function fingerprintOf(name: string, path: string): Promise<string> {
  try {
    const { size, mtimeMs } = await stat(path);
    return `${name} ${size} ${Math.round(mtimeMs)}`;
  } catch {
    return `${name} cannot be read`;
  }
}

/** One line for many files, which changes when any of them does. */
async function versionOf(folder: string, names: readonly string[]): Promise<string> {
  const looks = pLimit(LOOKED_AT_AT_ONCE);
  const lines = await looks.map(names, (name) => fingerprintOf(name, join(folder, name)));
  const hash = createHash("sha256").update(lines.join("\n")).digest("hex");
  return `${names.length} map tiles ${hash.slice(0, 16)}`;
}

async function tilesOrReason(place: () => Promise<readonly TileRef[]>): Promise<readonly TileRef[] | TileError> {
  try {
    return await place();
  } catch (error) {
    if (error instanceof TileError) return error;
    throw error;
  }
}

const unplacedBy = (key: string, { file, reason }: TileError) => ({ key, name: file, reason, transient: false });

async function filesIn(folder: string): Promise<string[]> {
  let found: Stats;
  try {
    found = await stat(folder);
  } catch (error) {
    throw new Error(`FIELDSTOP_ELEVATION names a folder that does not exist or cannot be read: ${folder}`, {
      cause: error,
    });
  }
  if (!found.isDirectory()) throw new Error(`FIELDSTOP_ELEVATION must name folders; ${folder} is none`);
  return (await readdir(folder, { recursive: true })).sort();
}

function hgtTile(path: string, source: TileSource, version: string): TileRef {
  const name = basename(path);
  return {
    key: path,
    name,
    box: cellBox(hgtCell(name)),
    source,
    version,
    load: async (read) => gridOf(name, await read({ kind: "hgt", name, from: { path } })),
  };
}
