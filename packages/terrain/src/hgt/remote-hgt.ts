import type { Remote } from "../remote/remote";
import { RemoteError } from "../remote/remote-error";
import { cellBox, cellName, type DegreeCell } from "../tiles/degree-cell";
import { TileError } from "../tiles/tile-error";
import { gridOf } from "../tiles/tile-recipe";
import type { TileIndex, TileReader, TileRef } from "../tiles/tile-ref";
import { LARGEST_HGT_FILE, SRTM } from "./hgt";

/** How archives name the tile of a cell, in the order in which they are tried. */
const NAMINGS: readonly ((cell: string) => string)[] = [
  (cell) => `${cell}.hgt`,
  (cell) => `${cell}.hgt.gz`,
  (cell) => `${cell}.hgt.zip`,
  (cell) => `${cell.slice(0, 3)}/${cell}.hgt.gz`,
  (cell) => `${cell}.SRTMGL1.hgt.zip`,
];

/** What has been fetched counts for as long as what comes from remotes does. */
const AS_FIRST_FETCHED = "as first fetched";

/** `.hgt` tiles under a base URL, requested by name when they are needed. */
export function remoteHgtIndex(base: string, remote: Remote): TileIndex {
  // the naming that last served is tried first
  let namings = NAMINGS;
  const source = { kind: SRTM };
  const load = async (cell: DegreeCell, read: TileReader) => {
    for (const naming of namings) {
      const path = naming(cellName(cell));
      const name = path.slice(path.lastIndexOf("/") + 1);
      const url = under(base, path);
      try {
        const found = await remote.fetchUnlessKept(url, { mostBytes: LARGEST_HGT_FILE });
        if (found === null) continue;
        const { bytes, isKept } = found;
        const grid = gridOf(name, await read({ kind: "hgt", name, from: { bytes } }));
        // only what proved to be a tile is kept
        if (!isKept) void remote.cache?.set(url, bytes);
        namings = [naming, ...NAMINGS.filter((other) => other !== naming)];
        return grid;
      } catch (error) {
        if (error instanceof RemoteError) throw new TileError(name, error.message, { cause: error });
        throw error;
      }
    }
    return null;
  };
  const tilesIn = (cell: DegreeCell): TileRef[] => {
    if (cell.latitude < -90 || cell.latitude > 89) return [];
    const name = cellName(cell);
    return [
      {
        key: `${base} ${name}`,
        name: `${name}.hgt`,
        box: cellBox(cell),
        source,
        version: AS_FIRST_FETCHED,
        isRemote: true,
        load: (read) => load(cell, read),
      },
    ];
  };
  return { tiles: [], unplaced: [], tilesIn, fingerprint: [base], isRemote: true };
}

/** A path under a base URL, whose query stays, such as a key. */
function under(base: string, path: string): string {
  const url = new URL(base);
  url.pathname = `${url.pathname.replace(/\/$/, "")}/${path}`;
  return url.href;
}
