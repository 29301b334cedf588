import type { ElevationGrid } from "@fieldstop/core/horizon";
import type { Box, DegreeCell } from "./degree-cell";
import type { TileError } from "./tile-error";
import type { TileReading, TileRecipe } from "./tile-recipe";

/** A tile that is known of and can be loaded. */
export interface TileRef {
  /** Unique among all tiles of a terrain. */
  readonly key: string;
  /** What people call it: the file's name. */
  readonly name: string;
  readonly box: Box;
  readonly source: TileSource;
  /** Changes when the tile does; absent where that cannot be told, so that nothing made of it may be kept. */
  readonly version?: string;
  /** It may change without a sign in its version: what is made of it counts only so long. */
  readonly isRemote?: boolean;
  /**
   * The tile's grid; null where a source queried by name turns out to have no such tile.
   * @param read decodes what was fetched or found: in another thread, where there is one for that
   * @throws TileError for a file that cannot be used
   */
  load(read: TileReader): Promise<ElevationGrid | null>;
}

export type TileReader = (recipe: TileRecipe) => Promise<TileReading>;

/** Where tiles come from. */
export interface TileSource {
  /** What kind of data it is, for people. */
  readonly kind: string;
  /** Who made the data, where the source says so. */
  readonly attribution?: string;
}

/** A file that is there but whose place on Earth cannot be told, so that it could matter anywhere. */
export interface UnplacedTile {
  readonly key: string;
  readonly name: string;
  /** Why it has no place. */
  readonly reason: string;
  /** Whether it may come back by itself: a remote that does not answer now. */
  readonly transient: boolean;
  /**
   * Looks again, where that can help.
   * @throws TileError where its place still cannot be told
   */
  readonly place?: () => Promise<readonly TileRef[]>;
}

/** What one source holds. */
export interface TileIndex {
  readonly tiles: readonly TileRef[];
  readonly unplaced: readonly UnplacedTile[];
  /** Files that cannot be used as they are, to be told to those who keep them. */
  readonly faults?: readonly TileError[];
  /** Tiles of a source that cannot list them, only look one up by place. */
  readonly tilesIn?: (cell: DegreeCell) => readonly TileRef[];
  /** One line for each file, which changes when the file does. */
  readonly fingerprint: readonly string[];
  /** The files may change without a sign in their lines: what is made of them counts only so long. */
  readonly isRemote?: boolean;
}
