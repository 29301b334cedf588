import type { ElevationGrid } from "@fieldstop/core/horizon";
import type { Box } from "./degree-cell";

/** A tile that is known of and can be loaded. */
export interface TileRef {
  /** Unique among all tiles of a terrain. */
  readonly key: string;
  /** What people call it: the file's name. */
  readonly name: string;
  readonly box: Box;
  readonly source: TileSource;
  /** @throws TileError for a file that cannot be used */
  load(): Promise<ElevationGrid>;
}

/** Where tiles come from. */
export interface TileSource {
  /** Who made the data, where the source says so. */
  readonly attribution?: string;
}

/** What kind of data a tile is, for people. */
export const kindOf = (ref: TileRef): string =>
  /\.hgt(\.gz|\.zip)?$/i.test(ref.name) ? "SRTM tiles (.hgt)" : "GeoTIFF";
