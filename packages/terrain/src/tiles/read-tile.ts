import { preparedBytes, prepareTile } from "./prepared-tile";
import { inSharedMemory, openGrid, type SharedGrid, sharedGrid } from "./shared-grid";
import { readRecipe, type TileReading, type TileRecipe } from "./tile-recipe";

/** A tile to be decoded, and where to put its prepared form, if it is worth one. */
export interface ReadJob {
  readonly recipe: TileRecipe;
  readonly prepare?: PrepareInto | undefined;
}

export interface PrepareInto {
  readonly folder: string;
  readonly key: string;
  /** Most that it may take [B]. */
  readonly mostBytes: number;
}

/** What came of it, as plain data. */
export type ReadOutcome =
  | Exclude<TileReading, { readonly kind: "grid" }>
  /** It has been prepared, and takes so much [B]: its heights are better read from there. */
  | { readonly kind: "prepared"; readonly bytes: number }
  | { readonly kind: "grid"; readonly grid: SharedGrid; readonly fault?: string };

/** Tiles of less are read whole: from their own files it takes as long [B]. */
export const WORTH_PREPARING = 4_000_000;

/**
 * Decodes a tile, raises its maximum pyramid, and prepares it; where that is not wanted or does not go, gives its heights in shared
 * memory.
 * @throws TileError naming the file
 */
export async function readTile({ recipe, prepare }: ReadJob): Promise<ReadOutcome> {
  const reading = await readRecipe(recipe);
  if (reading.kind !== "grid") return reading;
  const { grid } = reading;
  let fault: string | undefined;
  if (prepare !== undefined && grid.samples.byteLength >= WORTH_PREPARING && preparedBytes(grid) <= prepare.mostBytes) {
    try {
      await prepareTile({ grid: sharedGrid(grid, grid.pyramid), folder: prepare.folder, key: prepare.key });
      return { kind: "prepared", bytes: preparedBytes(grid) };
    } catch (error) {
      fault = error instanceof Error && "code" in error ? String(error.code) : String(error);
    }
  }
  const shared = openGrid({ ...sharedGrid(grid), samples: await inSharedMemory(grid.samples) });
  return { kind: "grid", grid: sharedGrid(shared, shared.pyramid), ...(fault !== undefined && { fault }) };
}
