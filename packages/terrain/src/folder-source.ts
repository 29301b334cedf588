import type { Stats } from "node:fs";
import { readdir, readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import { fromFile } from "geotiff";
import { cellBox, cellFromName } from "./degree-cell";
import { blockBox, blocksOf, isGeoTiff, openGeoTiff, readGeoTiffBlock } from "./geotiff";
import { hgtCell, isHgt, readHgt } from "./hgt";
import { TileError } from "./tile-error";
import type { TileRef, TileSource } from "./tile-ref";

export interface FolderIndex {
  readonly tiles: readonly TileRef[];
  /** One line for each file, which changes when the file does. */
  readonly fingerprint: readonly string[];
}

/** A folder may say who made its data in a file of this name. */
const ATTRIBUTION = "ATTRIBUTION.txt";

/**
 * What tiles a folder and the folders in it hold, by degree cell: names and headers are read now, heights when they are needed.
 *
 * @throws Error naming FIELDSTOP_ELEVATION for a folder that does not exist; TileError for a tile whose place cannot be told
 */
export async function indexFolder(folder: string): Promise<FolderIndex> {
  const names = await filesIn(folder);
  const source: TileSource = names.includes(ATTRIBUTION)
    ? { attribution: (await readFile(join(folder, ATTRIBUTION), "utf8")).trim() }
    : {};
  const tiles: TileRef[] = [];
  const fingerprint: string[] = [];
  const cells = new Set<string>();
  for (const name of names) {
    if (!isHgt(name) && !isGeoTiff(name)) continue;
    const path = join(folder, name);
    const { size, mtimeMs } = await stat(path);
    fingerprint.push(`${name} ${size} ${Math.round(mtimeMs)}`);
    if (isGeoTiff(name)) {
      tiles.push(...(await geoTiffTiles(path, source)));
      continue;
    }
    const tile = hgtTile(path, source);
    const cell = JSON.stringify(tile.box);
    // the same cell twice, such as 1″ beside 3″: the first by name, which is the finer
    if (!cells.has(cell)) tiles.push(tile);
    cells.add(cell);
  }
  return { tiles, fingerprint };
}

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

function hgtTile(path: string, source: TileSource): TileRef {
  const name = basename(path);
  return {
    key: path,
    name,
    box: cellBox(hgtCell(name)),
    source,
    load: async () => readHgt(name, await contents(name, path)),
  };
}

async function contents(name: string, path: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown fault";
    throw new TileError(name, `the file cannot be read (${code})`, { cause: error });
  }
}

async function geoTiffTiles(path: string, source: TileSource): Promise<TileRef[]> {
  const name = basename(path);
  const open = async () => {
    try {
      return await openGeoTiff(name, await fromFile(path));
    } catch (error) {
      if (error instanceof TileError) throw error;
      const why = error instanceof Error ? error.message : String(error);
      throw new TileError(name, `the file does not open (${why}): truncated, or no GeoTIFF`, { cause: error });
    }
  };
  try {
    const raster = await open();
    return blocksOf(raster).map((block, i) => ({
      key: `${path}#${i}`,
      name,
      box: blockBox(raster, block),
      source,
      load: () => readGeoTiffBlock(name, raster, block),
    }));
  } catch (error) {
    // a bad file whose name tells its cell takes only that cell with it, and may be mended while the service runs
    const cell = cellFromName(name);
    if (cell === null) throw error;
    const load = async () => {
      const raster = await open();
      const [first, ...others] = blocksOf(raster);
      if (first === undefined || others.length > 0) throw new TileError(name, "mended since the start; start again");
      return readGeoTiffBlock(name, raster, first);
    };
    return [{ key: path, name, box: cellBox(cell), source, load }];
  }
}
