/** A run of bytes of a file. */
export interface Slice {
  readonly offset: number;
  readonly length: number;
}

/** Bytes that are read of a file, or unpacked from it, at one go: a tile of 8192 × 8192 heights of 16 bits. */
export const LARGEST_PIECE = 134_217_728;

/** @throws Error for a piece that is too large to be read at one go */
export function requirePiece(bytes: number): void {
  if (bytes <= LARGEST_PIECE) return;
  throw new Error(`a piece of ${bytes} bytes is too large: inner tiles make pieces small`);
}
