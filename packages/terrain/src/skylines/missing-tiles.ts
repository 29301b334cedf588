import type { HorizonScan } from "@fieldstop/core/horizon";
import type { MissingTile } from "../terrain";
import { cellName } from "../tiles/degree-cell";
import type { TileCatalogue } from "../tiles/tile-catalogue";
import type { TileError } from "../tiles/tile-error";
import type { UnplacedTile } from "../tiles/tile-ref";
import { azimuthRanges } from "./azimuth-ranges";

/** A file whose place cannot be told could matter anywhere. */
export const missingAnywhere = ({ name, reason }: UnplacedTile): MissingTile => ({
  name,
  reason: "unreadable",
  detail: reason,
  azimuthsDeg: [[0, 360]],
});

/**
 * The tiles that a scan lacks.
 * @param failures why tiles could not be used, by key
 */
export function missingTiles(
  catalogue: TileCatalogue,
  scan: HorizonScan,
  failures: ReadonlyMap<string, TileError>,
): MissingTile[] {
  return scan.unknownCells.map((cell) => {
    const azimuthsDeg = azimuthRanges(scan.azimuthsDeg, cell.azimuthIndices);
    const bad = catalogue.inCell(cell).flatMap((tile) => failures.get(tile.key) ?? [])[0];
    if (bad === undefined) return { name: cellName(cell), reason: "absent", azimuthsDeg };
    return { name: bad.file, reason: "unreadable", detail: bad.reason, azimuthsDeg };
  });
}
